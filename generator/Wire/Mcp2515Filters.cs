using System.Numerics;

namespace Locum.Wire;

/// <summary>
/// Acceptance filters of an MCP2515: RXF0 and RXF1 under RXM0 fill RXB0, RXF2 to RXF5 under RXM1 fill RXB1
/// (data sheet DS20001801, message acceptance filters and masks).
/// </summary>
public sealed class Mcp2515Filters
{
    private const int First = 2;
    private const int Second = 4;
    // Up to so many patterns every division between the two buffers is tried, 2 to the power of this.
    private const int TryAll = 10;
    private const byte ExtendedBit = 0x08;

    private readonly FilterGroup _first;
    private readonly FilterGroup _second;

    private Mcp2515Filters(FilterGroup first, FilterGroup second)
    {
        _first = first;
        _second = second;
    }

    /// <summary>RXF0 to RXF5, then RXM0 and RXM1: four bytes each, SIDH, SIDL, EID8, EID0.</summary>
    public IReadOnlyList<byte[]> Registers =>
    [
        .. _first.Filled(First).Select(f => Bytes(f.Value, f.Extended)),
        .. _second.Filled(Second).Select(f => Bytes(f.Value, f.Extended)),
        Bytes(_first.Mask, false),
        Bytes(_second.Mask, false),
    ];

    /// <summary>Filters that let all the patterns' identifiers in, and as few others as could be arranged: none when filters and masks suffice.</summary>
    public static Mcp2515Filters For(IEnumerable<IdPattern> patterns)
    {
        var wanted = patterns.ToList();
        IdPattern.DropCovered(wanted);
        wanted = [.. wanted.OrderBy(p => (p.Id.Extended, p.Mask, p.Id.Value))];
        Mcp2515Filters? best = null;
        foreach (var inSecond in Divisions(wanted.Count))
        {
            var candidate = new Mcp2515Filters(
                FilterGroup.Of([.. wanted.Where((_, i) => !inSecond(i))], First),
                FilterGroup.Of([.. wanted.Where((_, i) => inSecond(i))], Second));
            if (best is null || candidate.Cost.CompareTo(best.Cost) < 0)
                best = candidate;
        }
        return best!;
    }

    // Exact ones first: shares count twice what lies in two filters.
    private (bool Wider, double Share) Cost => (_first.IsWider || _second.IsWider, _first.Share + _second.Share);

    // All in RXB0 comes first: with RXB1 as its overflow only, the order of frames is known.
    private static IEnumerable<Func<int, bool>> Divisions(int count)
    {
        if (count <= TryAll)
        {
            for (var set = 0; set < 1 << count; set++)
            {
                var bits = set;
                yield return i => (bits >> i & 1) != 0;
            }
            yield break;
        }
        for (var cut = 0; cut <= count; cut++)
        {
            var at = cut;
            yield return i => i < at;
            yield return i => i >= at;
        }
    }

    private static byte[] Bytes(uint id, bool extended) =>
    [
        (byte)(id >> 21),
        (byte)((id >> 13 & 0xE0) | (extended ? ExtendedBit : 0u) | (id >> 16 & 3)),
        (byte)(id >> 8),
        (byte)id,
    ];

    /// <summary>Filters under one mask. Identifiers stand as in the registers: 11-bit ones in the upper bits of 29.</summary>
    /// <param name="IsWider">More is let in than the patterns ask for.</param>
    private sealed record FilterGroup(uint Mask, IReadOnlyList<(bool Extended, uint Value)> Filters, bool IsWider)
    {
        private const int Shift = 18;
        // For an 11-bit frame the chip compares the lower 16 bits with data bytes and leaves out the two above.
        private const uint Unused = 0x3_0000;

        // No frame matches: 29 bits long and last in arbitration.
        private static readonly FilterGroup Shut = new(CanId.MaxExtended, [(true, CanId.MaxExtended)], false);

        /// <summary>Identifiers let in, as a share of all of their length, added up over both lengths.</summary>
        public double Share => ReferenceEquals(this, Shut) ? 0 : Filters.Sum(f => Math.Pow(2, -BitOperations.PopCount(f.Extended ? Mask : Mask >> Shift)));

        /// <summary>As many filters as there are registers: the first one again in those that are left.</summary>
        public IEnumerable<(bool Extended, uint Value)> Filled(int count) => Filters.Concat(Enumerable.Repeat(Filters[0], count - Filters.Count));

        public static FilterGroup Of(IReadOnlyList<IdPattern> patterns, int most)
        {
            if (patterns.Count is 0)
                return Shut;
            var mask = patterns.Aggregate(CanId.MaxExtended, (m, p) => m & (p.Id.Extended ? p.Mask : p.Mask << Shift | Unused));
            var filters = Under(mask, patterns);
            // The bit without which the fewest filters are left, until they fit; without any bit there are two at most.
            while (filters.Count > most)
            {
                (mask, filters) = Enumerable.Range(0, 29).Where(b => (mask >> b & 1) != 0)
                    .Select(b => mask & ~(1u << b)).Select(m => (m, Under(m, patterns)))
                    .MinBy(c => c.Item2.Count);
            }
            return new FilterGroup(filters.Any(f => f.Extended) ? mask : mask & ~Unused, filters, patterns.Any(p => p.Mask != (p.Id.Extended ? mask : mask >> Shift)));
        }

        private static List<(bool Extended, uint Value)> Under(uint mask, IReadOnlyList<IdPattern> patterns) =>
            [.. patterns.Select(p => (p.Id.Extended, (p.Id.Extended ? p.Id.Value : p.Id.Value << Shift) & mask)).Distinct()];
    }
}
