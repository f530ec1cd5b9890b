namespace Locum.Wire;

/// <summary>
/// The bits of a CAN FD data frame in front of its data, SOF to DLC (ISO 11898-1:2015, from memory): SOF, 11
/// base bits, RRS, IDE, FDF, res, BRS, ESI, DLC, or SOF, 11 base bits, SRR, IDE, 18 extension bits, RRS, FDF,
/// res, BRS, ESI, DLC. FDF is recessive; res and ESI (sender not error-passive) are dominant.
/// </summary>
/// <param name="Bits">Right-aligned; the first bit on the wire is the highest of <paramref name="Count"/>.</param>
/// <param name="Count">22 or 41.</param>
internal readonly record struct FdHeader(ulong Bits, int Count)
{
    /// <summary>ESI and DLC: sent at the data rate when the frame switches.</summary>
    public const int BehindSwitch = 5;

    private const int StandardCount = 22;
    private const int ExtendedCount = 41;

    /// <summary>Header bits of an identifier format.</summary>
    public static int CountOf(bool extended) => extended ? ExtendedCount : StandardCount;

    /// <exception cref="ArgumentException">The identifier does not fit its format, or no DLC stands for the length.</exception>
    public static FdHeader Of(CanId id, int dataLength, bool switched)
    {
        if (!id.IsValid)
            throw new ArgumentException($"The identifier {id} does not fit its format.", nameof(id));
        if (FdLengths.Code(dataLength) is not { } dlc)
            throw new ArgumentException($"A CAN FD frame cannot have {dataLength} data bytes.", nameof(dataLength));

        const ulong Fdf = 1UL << 7;
        ulong control = Fdf | (switched ? 1UL << 5 : 0) | (uint)dlc;
        if (!id.Extended)
            return new FdHeader(((ulong)id.Value << 10) | control, StandardCount);

        ulong baseBits = id.Value >> 18;
        ulong extension = id.Value & 0x3FFFF;
        const ulong SrrAndIde = 0b11;
        return new FdHeader((baseBits << 29) | (SrrAndIde << 27) | (extension << 9) | control, ExtendedCount);
    }
}
