namespace Locum.Wire;

/// <summary>
/// Acceptance filter elements of FDCAN controllers as their message RAM holds them (RM0440, "FDCAN standard message ID
/// filter element" and "FDCAN extended message ID filter element"; layouts from memory). All let frames into FIFO 0.
/// </summary>
/// <param name="Standard">A word per element of 11-bit identifiers.</param>
/// <param name="Extended">F0 and F1 per element of 29-bit identifiers.</param>
public sealed record FdCanFilters(IReadOnlyList<uint> Standard, IReadOnlyList<(uint F0, uint F1)> Extended)
{
    /// <summary>Elements of controllers whose message RAM is laid out for good, the smallest of the kind.</summary>
    public const int StandardMost = 28;

    public const int ExtendedMost = 8;

    private const uint DualId = 1u << 30; // SFT, EFT
    private const uint Mask = 2u << 30;
    private const uint StandardToFifo0 = 1u << 27; // SFEC
    private const uint ExtendedToFifo0 = 1u << 29; // EFEC
    private const int StandardId1Shift = 16;

    /// <summary>
    /// Elements that pass exactly what a pattern matches. When there are more patterns than elements, the two that lie
    /// nearest are joined until the rest fits: then more passes, and the core drops it.
    /// </summary>
    public static FdCanFilters Pack(IEnumerable<IdPattern> patterns)
    {
        var all = patterns.ToList();
        return new FdCanFilters(
            [.. Fit(all.Where(p => !p.Id.Extended), StandardMost).Select(Standard11)],
            [.. Fit(all.Where(p => p.Id.Extended), ExtendedMost).Select(Extended29)]);
    }

    // Two single identifiers or one pattern per element.
    private static List<(IdPattern A, IdPattern? B)> Fit(IEnumerable<IdPattern> patterns, int most)
    {
        var rest = patterns.ToList();
        IdPattern.DropCovered(rest);
        while (rest.Count(p => !p.IsSingle) + ((rest.Count(p => p.IsSingle) + 1) / 2) > most)
        {
            IdPattern.JoinNearest(rest);
            IdPattern.DropCovered(rest);
        }
        return
        [
            .. rest.Where(p => p.IsSingle).Chunk(2).Select(c => (c[0], (IdPattern?)c[^1])),
            .. rest.Where(p => !p.IsSingle).Select(p => (p, (IdPattern?)null)),
        ];
    }

    // SFT in bits 31..30, SFEC 29..27, SFID1 26..16, SFID2 10..0.
    private static uint Standard11((IdPattern A, IdPattern? B) element) =>
        (element.B is null ? Mask : DualId) | StandardToFifo0 | (element.A.Id.Value << StandardId1Shift)
        | (element.B?.Id.Value ?? element.A.Mask);

    // F0: EFEC in bits 31..29, EFID1 28..0. F1: EFT 31..30, EFID2 28..0.
    private static (uint F0, uint F1) Extended29((IdPattern A, IdPattern? B) element) =>
        (ExtendedToFifo0 | element.A.Id.Value, (element.B is null ? Mask : DualId) | (element.B?.Id.Value ?? element.A.Mask));
}
