namespace Locum.Wire;

/// <summary>A filter of an MCP2518FD: CiFLTOBJ and CiMASK.</summary>
public readonly record struct Mcp2518FdFilter(uint Object, uint Mask)
{
    private const int ExtendedShift = 11;
    private const int BaseShift = 18;
    private const uint ExtendedBits = 0x3FFFF;
    private const uint KindBit = 1u << 30; // EXIDE, MIDE

    /// <summary>A filter that passes exactly what a pattern matches.</summary>
    public static Mcp2518FdFilter For(IdPattern pattern) => pattern.Id.Extended
        ? new(KindBit | Place(pattern.Id.Value & pattern.Mask), KindBit | Place(pattern.Mask))
        : new(pattern.Id.Value & pattern.Mask, KindBit | pattern.Mask);

    // SID in bits 10..0, EID in 28..11.
    private static uint Place(uint id) => (id >> BaseShift) | ((id & ExtendedBits) << ExtendedShift);
}

/// <summary>
/// Acceptance filters of MCP2518FD-class controllers (data sheet DS20006027, "CiFLTOBJm" and "CiMASKm"; positions also in the
/// public header of the open-source driver mcp251xfd). All let frames into FIFO 1.
/// </summary>
public static class Mcp2518FdFilters
{
    /// <summary>Filters of a controller.</summary>
    public const int Most = 32;

    /// <summary>A filter per pattern. When there are more, the two that lie nearest are joined until the rest fits: then more passes, and the core drops it.</summary>
    public static IReadOnlyList<Mcp2518FdFilter> Pack(IEnumerable<IdPattern> patterns)
    {
        var rest = patterns.ToList();
        IdPattern.DropCovered(rest);
        while (rest.Count > Most)
        {
            IdPattern.JoinNearest(rest);
            IdPattern.DropCovered(rest);
        }
        return [.. rest.Select(Mcp2518FdFilter.For)];
    }
}
