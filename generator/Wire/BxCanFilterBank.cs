namespace Locum.Wire;

/// <summary>
/// One acceptance filter bank of a bxCAN controller (STM32 reference manual RM0008, "Identifier filtering"; layouts
/// from memory). Remote frames never pass.
/// </summary>
/// <param name="R1">Register FiR1.</param>
/// <param name="R2">Register FiR2.</param>
/// <param name="List">Bit of FM1R: the registers hold identifiers, not identifier and mask.</param>
/// <param name="Wide">Bit of FS1R: one 32-bit scale instead of two of 16 bits.</param>
public readonly record struct BxCanFilterBank(uint R1, uint R2, bool List, bool Wide)
{
    private const int StandardShift = 5;
    private const uint ShortFormatBits = 0x18; // RTR, IDE
    private const int ExtendedShift = 3;
    private const uint LongFormat = 4; // IDE
    private const uint LongFormatBits = 6; // IDE, RTR

    /// <summary>Up to four single 11-bit identifiers.</summary>
    public static BxCanFilterBank ShortList(ReadOnlySpan<IdPattern> ids)
    {
        var last = ids[^1];
        return new BxCanFilterBank(
            Halves(Short(ids[0].Id), Short(ids.Length > 1 ? ids[1].Id : last.Id)),
            Halves(Short(ids.Length > 2 ? ids[2].Id : last.Id), Short(last.Id)), List: true, Wide: false);
    }

    /// <summary>One or two 11-bit patterns.</summary>
    public static BxCanFilterBank ShortMasks(ReadOnlySpan<IdPattern> patterns) =>
        new(ShortMask(patterns[0]), ShortMask(patterns[^1]), List: false, Wide: false);

    /// <summary>One or two single 29-bit identifiers.</summary>
    public static BxCanFilterBank LongList(ReadOnlySpan<IdPattern> ids) =>
        new(Long(ids[0].Id), Long(ids[^1].Id), List: true, Wide: true);

    /// <summary>One 29-bit pattern.</summary>
    public static BxCanFilterBank LongMask(IdPattern pattern) =>
        new(Long(pattern.Id), (pattern.Mask << ExtendedShift) | LongFormatBits, List: false, Wide: true);

    // STID in bits 15..5, RTR 4, IDE 3, EXID[17:15] 2..0.
    private static uint Short(CanId id) => id.Value << StandardShift;

    private static uint ShortMask(IdPattern pattern) => Halves(Short(pattern.Id), (pattern.Mask << StandardShift) | ShortFormatBits);

    private static uint Halves(uint low, uint high) => low | (high << 16);

    // STID in bits 31..21, EXID 20..3, IDE 2, RTR 1.
    private static uint Long(CanId id) => (id.Value << ExtendedShift) | LongFormat;
}
