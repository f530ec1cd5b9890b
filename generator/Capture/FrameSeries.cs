using System.Buffers.Binary;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>
/// All data frames of one identifier on one bus, in the order of the capture. Columns lie side by side: times,
/// lengths, payloads, and each frame's number among all entries of the recording.
/// </summary>
public sealed class FrameSeries
{
    private const int ClassicStride = 8;

    private long[] _timesUs = new long[4];
    private int[] _orders = new int[4];
    private byte[] _lengths = new byte[4];
    private FrameFormat[] _formats = [];
    private byte[] _data = new byte[4 * ClassicStride];
    private int _stride = ClassicStride;
    private readonly List<Run> _runs = [];

    internal FrameSeries(int bus, string busName, CanId id)
    {
        Bus = bus;
        BusName = busName;
        Id = id;
    }

    /// <summary>Number of the bus in <see cref="Recording.Buses"/>.</summary>
    public int Bus { get; }

    /// <summary>Name of the bus.</summary>
    public string BusName { get; internal set; }

    /// <summary>The identifier that all frames share.</summary>
    public CanId Id { get; }

    /// <summary>Number of frames, at least 1.</summary>
    public int Count { get; private set; }

    /// <summary>Times in microseconds, one per frame; they run forward inside each of <see cref="Runs"/>.</summary>
    public ReadOnlySpan<long> TimesUs => _timesUs.AsSpan(0, Count);

    /// <summary>Each frame's number among all entries of the recording, rising.</summary>
    public ReadOnlySpan<int> Orders => _orders.AsSpan(0, Count);

    /// <summary>Data bytes, one entry per frame.</summary>
    public ReadOnlySpan<byte> Lengths => _lengths.AsSpan(0, Count);

    /// <summary>Stretches without a break in time, in order; together they cover every frame.</summary>
    public IReadOnlyList<Run> Runs => _runs;

    /// <summary>The longest payload in bytes.</summary>
    public int LongestLength { get; private set; }

    /// <summary>The shortest payload in bytes.</summary>
    public int ShortestLength { get; private set; } = byte.MaxValue;

    /// <summary>The layout of a frame on the wire.</summary>
    public FrameFormat Format(int index) => _formats.Length is 0 ? FrameFormat.Classic : _formats[index];

    /// <summary>The payload of a frame.</summary>
    public ReadOnlySpan<byte> Data(int index) => _data.AsSpan(index * _stride, _lengths[index]);

    /// <summary>Up to the first 8 bytes as a little-endian number; bytes the frame lacks are 0.</summary>
    public ulong Word(int index) => BinaryPrimitives.ReadUInt64LittleEndian(_data.AsSpan(index * _stride, ClassicStride));

    internal void Add(in CaptureFrame frame, ReadOnlySpan<byte> data, long timeUs, int order, int part)
    {
        if (Count == _timesUs.Length)
            Grow();
        if (data.Length > _stride)
            Widen(FdLengths.Most);
        var format = frame.Format;
        if (format is not FrameFormat.Classic && _formats.Length is 0)
            _formats = new FrameFormat[_timesUs.Length];
        if (_formats.Length > 0)
            _formats[Count] = format;
        _timesUs[Count] = timeUs;
        _orders[Count] = order;
        _lengths[Count] = (byte)data.Length;
        data.CopyTo(_data.AsSpan(Count * _stride));
        if (_runs.Count is 0 || _runs[^1].Part != part)
            _runs.Add(new Run(Count, 1, part));
        else
            _runs[^1] = _runs[^1] with { Count = _runs[^1].Count + 1 };
        LongestLength = Math.Max(LongestLength, data.Length);
        ShortestLength = Math.Min(ShortestLength, data.Length);
        Count++;
    }

    private void Grow()
    {
        int size = _timesUs.Length * 2;
        Array.Resize(ref _timesUs, size);
        Array.Resize(ref _orders, size);
        Array.Resize(ref _lengths, size);
        Array.Resize(ref _data, size * _stride);
        if (_formats.Length > 0)
            Array.Resize(ref _formats, size);
    }

    private void Widen(int stride)
    {
        var wider = new byte[_timesUs.Length * stride];
        for (int i = 0; i < Count; i++)
            Data(i).CopyTo(wider.AsSpan(i * stride));
        _data = wider;
        _stride = stride;
    }
}
