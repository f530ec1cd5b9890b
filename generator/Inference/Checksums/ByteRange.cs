namespace Locum.Inference.Checksums;

/// <summary>The payload bytes that a hypothesis reads.</summary>
/// <param name="Bytes">Indices in the order of reading.</param>
/// <param name="OwnZero">The place's own bits count as 0; otherwise its bytes are left out.</param>
/// <param name="Plainness">0 for all bytes, 1 for those before or behind the place, 2 and more for others.</param>
internal sealed record ByteRange(int[] Bytes, bool OwnZero, int Plainness)
{
    private const int ClassicLength = 8;

    private readonly ulong _reached = Bytes.Aggregate(0UL, (bits, b) => bits | (1UL << b));

    /// <summary>
    /// The ranges to try for a place, plain ones first: all of the payload, before the place, behind it, then, in
    /// payloads of up to 8 bytes, every other stretch, in longer ones those without the first or the last bytes.
    /// </summary>
    /// <param name="length">Bytes of the payload.</param>
    /// <param name="place">The checksum's place.</param>
    public static IReadOnlyList<ByteRange> For(int length, ChecksumPlace place)
    {
        var ranges = new List<ByteRange>();
        foreach (var (first, last, plainness) in Stretches(length, place))
        {
            bool reaches = first <= place.LastByte && last >= place.FirstByte;
            int[] all = [.. Enumerable.Range(first, last - first + 1)];
            int[] others = [.. all.Where(b => b < place.FirstByte || b > place.LastByte)];
            if (others.Length > 0)
                ranges.Add(new ByteRange(others, false, plainness));
            if (reaches && all.Length > place.ByteCount)
                ranges.Add(new ByteRange(all, true, plainness));
        }

        return ranges;
    }

    /// <summary>The bits of a byte that are read.</summary>
    public byte Mask(int index, ChecksumPlace place) => ((_reached >> index) & 1) is 0 ? (byte)0 : (byte)~place.Mask(index);

    private static IEnumerable<(int First, int Last, int Plainness)> Stretches(int length, ChecksumPlace place)
    {
        int end = length - 1;
        yield return (0, end, 0);
        if (place.FirstByte > 0 && place.LastByte < end)
        {
            yield return (0, place.FirstByte - 1, 1);
            yield return (place.LastByte + 1, end, 1);
        }

        int most = length <= ClassicLength ? length : 2;
        for (int first = 0; first < most; first++)
        {
            int least = length <= ClassicLength ? first : length - 3;
            for (int last = end; last >= least; last--)
            {
                bool before = last == place.FirstByte - 1 || (place.FirstByte == last && place.ByteCount is 1);
                bool told = first is 0 && (last == end || (before && place.LastByte < end));
                told |= last == end && first == place.LastByte + 1 && place.FirstByte > 0;
                if (!told)
                    yield return (first, last, 2);
            }
        }
    }
}
