namespace Locum.Inference.Checksums;

/// <summary>Mirrored numbers.</summary>
internal static class Bits
{
    private static readonly byte[] s_mirrored = [.. Enumerable.Range(0, 256).Select(i => (byte)Reverse((ulong)i, 8))];

    /// <summary>A byte with its bits in the other order.</summary>
    public static byte Reverse(byte value) => s_mirrored[value];

    /// <summary>The lowest <paramref name="width"/> bits in the other order.</summary>
    public static ulong Reverse(ulong value, int width)
    {
        ulong mirrored = 0;
        for (int bit = 0; bit < width; bit++)
            mirrored |= ((value >> bit) & 1) << (width - 1 - bit);
        return mirrored;
    }
}
