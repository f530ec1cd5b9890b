namespace Locum.Wire;

/// <summary>
/// The bits of a classic CAN data frame in front of its data, SOF to DLC (ISO 11898-1, from memory):
/// SOF, 11 base bits, RTR, IDE, r0, DLC, or SOF, 11 base bits, SRR, IDE, 18 extension bits, RTR, r1, r0, DLC.
/// </summary>
/// <param name="Bits">Right-aligned; the first bit on the wire is the highest of <paramref name="Count"/>.</param>
/// <param name="Count">19 or 39.</param>
internal readonly record struct FrameHeader(ulong Bits, int Count)
{
    /// <summary>The most data bytes of a classic frame.</summary>
    public const int MaxData = 8;

    private const int StandardCount = 19;
    private const int ExtendedCount = 39;

    /// <exception cref="ArgumentException">The identifier does not fit its format, or there are more than 8 data bytes.</exception>
    public static FrameHeader Of(CanId id, int dataLength)
    {
        if (!id.IsValid)
            throw new ArgumentException($"The identifier {id} does not fit its format.", nameof(id));
        if (dataLength is < 0 or > MaxData)
            throw new ArgumentException($"A classic CAN frame has 0..8 data bytes, not {dataLength}.", nameof(dataLength));

        ulong dlc = (ulong)dataLength;
        if (!id.Extended)
            return new FrameHeader(((ulong)id.Value << 7) | dlc, StandardCount);

        ulong baseBits = id.Value >> 18;
        ulong extension = id.Value & 0x3FFFF;
        const ulong SrrAndIde = 0b11;
        return new FrameHeader((baseBits << 27) | (SrrAndIde << 25) | (extension << 7) | dlc, ExtendedCount);
    }
}
