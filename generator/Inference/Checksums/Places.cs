namespace Locum.Inference.Checksums;

/// <summary>The places where a checksum may stand.</summary>
internal static class Places
{
    private const int ByteBits = 8;

    /// <summary>Every nibble, every byte, every pair of bytes in both orders.</summary>
    public static IEnumerable<ChecksumPlace> Small(int length)
    {
        for (int bit = 0; bit < length * ByteBits; bit += 4)
            yield return new ChecksumPlace(bit, 4);
        for (int index = 0; index < length; index++)
            yield return new ChecksumPlace(index * ByteBits, ByteBits);
        foreach (var place in OfBytes(length, 2))
            yield return place;
    }

    /// <summary>Every run of bytes in both orders.</summary>
    public static IEnumerable<ChecksumPlace> OfBytes(int length, int bytes)
    {
        for (int first = 0; first + bytes <= length; first++)
        {
            yield return new ChecksumPlace(first * ByteBits, bytes * ByteBits);
            yield return new ChecksumPlace((first + bytes - 1) * ByteBits, bytes * ByteBits, true);
        }
    }
}
