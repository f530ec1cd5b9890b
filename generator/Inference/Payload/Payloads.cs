using System.Buffers.Binary;
using Locum.Capture;

namespace Locum.Inference.Payload;

/// <summary>
/// The frames of a series that have its usual length, in order, with how far each lies behind the one before: what
/// counters and other rules about payloads are tested on.
/// </summary>
public sealed class Payloads
{
    /// <summary>A step that says nothing: the first frame, or one behind a break.</summary>
    public const byte Apart = 0;

    private const int WordBytes = 8;

    private readonly FrameSeries _series;
    private readonly int[]? _indexes;
    private readonly byte[] _steps;

    private Payloads(FrameSeries series, int length, int[]? indexes, byte[] steps)
    {
        _series = series;
        _indexes = indexes;
        _steps = steps;
        Length = length;
    }

    /// <summary>Data bytes of every frame here.</summary>
    public int Length { get; }

    /// <summary>Number of frames.</summary>
    public int Count => _steps.Length;

    /// <summary>Words of 8 bytes that a payload needs.</summary>
    public int Words => (Length + WordBytes - 1) / WordBytes;

    /// <summary>
    /// Of each frame, how many places in the sender's sequence it lies behind the one before: 1 for neighbours, more where
    /// frames are missing between them, <see cref="Apart"/> where nothing is known.
    /// </summary>
    public ReadOnlySpan<byte> Steps => _steps;

    /// <summary>The most frequent length of a series' frames.</summary>
    public static int UsualLength(FrameSeries series)
    {
        Span<int> counts = stackalloc int[byte.MaxValue + 1];
        foreach (byte length in series.Lengths)
            counts[length]++;
        int best = 0;
        for (int i = 1; i < counts.Length; i++)
            if (counts[i] > counts[best])
                best = i;
        return best;
    }

    /// <summary>The frames of the usual length.</summary>
    /// <param name="series">The series.</param>
    /// <param name="steps">One entry per frame of the series, as in <see cref="Steps"/>.</param>
    public static Payloads Of(FrameSeries series, byte[] steps)
    {
        int length = UsualLength(series);
        if (series.ShortestLength == series.LongestLength)
            return new Payloads(series, length, null, steps);
        var indexes = new List<int>();
        var kept = new List<byte>();
        for (int i = 0; i < series.Count; i++)
        {
            if (series.Lengths[i] != length)
                continue;
            // Behind a frame of another length the sequence is not known.
            kept.Add(i > 0 && series.Lengths[i - 1] == length ? steps[i] : Apart);
            indexes.Add(i);
        }
        return new Payloads(series, length, [.. indexes], [.. kept]);
    }

    /// <summary>Some of these frames.</summary>
    /// <param name="numbers">Their numbers here, rising.</param>
    /// <param name="steps">Their steps.</param>
    public Payloads Some(IReadOnlyList<int> numbers, byte[] steps) =>
        new(_series, Length, [.. numbers.Select(Index)], steps);

    /// <summary>The frame's index in its series.</summary>
    public int Index(int number) => _indexes is null ? number : _indexes[number];

    /// <summary>The payload of a frame.</summary>
    public ReadOnlySpan<byte> Data(int number) => _series.Data(Index(number));

    /// <summary>When a frame came, microseconds.</summary>
    public long TimeUs(int number) => _series.TimesUs[Index(number)];

    /// <summary>8 bytes of a payload as a little-endian number; bytes it lacks are 0.</summary>
    public ulong Word(int number, int word)
    {
        if (word is 0)
            return _series.Word(Index(number));
        var rest = Data(number)[(word * WordBytes)..];
        if (rest.Length >= WordBytes)
            return BinaryPrimitives.ReadUInt64LittleEndian(rest);
        ulong value = 0;
        for (int i = 0; i < rest.Length; i++)
            value |= (ulong)rest[i] << (i * 8);
        return value;
    }

    /// <summary>The values of a field in a range of frames.</summary>
    public ulong[] Values(FieldPlace place, int first, int count)
    {
        var values = new ulong[count];
        for (int i = 0; i < count; i++)
            values[i] = place.Read(Data(first + i));
        return values;
    }
}
