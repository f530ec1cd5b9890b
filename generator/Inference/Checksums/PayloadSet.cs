using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.CompilerServices;
using Locum.Capture;

namespace Locum.Inference.Checksums;

/// <summary>The different payloads of one length in a series, in the order of their first frames, and how often each came.</summary>
internal sealed class PayloadSet
{
    private const int MostSteps = 20_000;

    private readonly byte[] _data;
    private readonly int[] _counts;
    private readonly int[] _frames;

    private PayloadSet(int length, byte[] data, int[] counts, int[] frames)
    {
        Length = length;
        _data = data;
        _counts = counts;
        _frames = frames;
    }

    /// <summary>Data bytes of every payload.</summary>
    public int Length { get; }

    /// <summary>Number of different payloads.</summary>
    public int Distinct => _counts.Length;

    /// <summary>Number of frames for each payload.</summary>
    public ReadOnlySpan<int> Counts => _counts;

    /// <summary>Number of the payload of each frame of this length, in time.</summary>
    public ReadOnlySpan<int> Frames => _frames;

    /// <summary>The first of <see cref="Frames"/>, enough of them to tell how fields step.</summary>
    public ReadOnlySpan<int> Beginning => Frames[..Math.Min(_frames.Length, MostSteps)];

    /// <summary>A payload by its number.</summary>
    public ReadOnlySpan<byte> this[int index] => _data.AsSpan(index * Length, Length);

    /// <summary>One set per length, the length with most frames first; lengths below 2 bytes have no room for a checksum.</summary>
    public static IReadOnlyList<PayloadSet> Of(FrameSeries series)
    {
        Span<int> frames = stackalloc int[byte.MaxValue + 1];
        foreach (byte length in series.Lengths)
            frames[length]++;
        var sets = new List<PayloadSet>();
        for (int length = 2; length < frames.Length; length++)
        {
            if (frames[length] > 0)
                sets.Add(Collect(series, length, frames[length]));
        }

        return [.. sets.OrderByDescending(s => s._frames.Length).ThenBy(s => s.Length)];
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static PayloadSet Collect(FrameSeries series, int length, int count)
    {
        // Open addressing; a slot holds the payload's number + 1.
        var slots = new int[BitOperations.RoundUpToPowerOf2((uint)count * 2)];
        int mask = slots.Length - 1;
        var data = new List<byte>(Math.Min(count, 4096) * length);
        var counts = new List<int>();
        var frames = new int[count];
        int n = 0;
        for (int i = 0; i < series.Count; i++)
        {
            var payload = series.Data(i);
            if (payload.Length != length)
                continue;
            int slot = Hash(payload) & mask;
            while (slots[slot] > 0 && !Same(data, (slots[slot] - 1) * length, payload))
                slot = (slot + 1) & mask;
            if (slots[slot] is 0)
            {
                data.AddRange(payload);
                counts.Add(0);
                slots[slot] = counts.Count;
            }

            frames[n] = slots[slot] - 1;
            counts[frames[n++]]++;
        }

        return new PayloadSet(length, [.. data], [.. counts], frames);
    }

    private static bool Same(List<byte> data, int start, ReadOnlySpan<byte> payload) =>
        System.Runtime.InteropServices.CollectionsMarshal.AsSpan(data).Slice(start, payload.Length).SequenceEqual(payload);

    /// <summary>A hash for tables that live no longer than a search; it needs no secret.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static int Hash(ReadOnlySpan<byte> payload)
    {
        ulong hash = (ulong)payload.Length;
        for (; payload.Length >= 8; payload = payload[8..])
            hash = Mix(hash ^ BinaryPrimitives.ReadUInt64LittleEndian(payload));
        ulong rest = 0;
        foreach (byte b in payload)
            rest = (rest << 8) | b;
        hash = Mix(hash ^ rest);
        return (int)(hash >> 32);
    }

    // Multiplier of the golden ratio.
    private static ulong Mix(ulong value)
    {
        value *= 0x9E37_79B9_7F4A_7C15;
        return value ^ (value >> 29);
    }
}
