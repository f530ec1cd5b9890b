using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>
/// Tries the catalogue's CRCs one by one: those of 32 and 64 bits, and those of 8 and 16 bits where the payloads are too
/// long and too few for <see cref="CrcSearch"/>.
/// </summary>
internal static class KnownCrcSearch
{
    private const int QuickPairs = 4;

    /// <summary>Widths for which there is no other search.</summary>
    public static IReadOnlyList<int> Widths { get; } = [32, 64];

    private static readonly Dictionary<int, (CrcTable Table, bool ReflectIn, bool ReflectOut)[]> s_kinds = CrcCatalogue.Entries
        .GroupBy(e => e.Parameters.Width)
        .ToDictionary(g => g.Key, g => g
            .Select(e => (e.Parameters.Poly, e.Parameters.ReflectIn, e.Parameters.ReflectOut)).Distinct()
            .Select(k => (new CrcTable(g.Key, k.Poly), k.ReflectIn, k.ReflectOut)).ToArray());

    /// <summary>The catalogue's CRCs at a place that fit a sample, whatever their constant.</summary>
    public static IReadOnlyList<CrcFit> Find(PayloadSet set, SearchSpace.Spot spot, Sample sample)
    {
        var fits = new List<CrcFit>();
        foreach (var (table, reflectIn, reflectOut) in s_kinds[spot.Place.Bits])
        {
            foreach (var (range, behind) in Shapes(spot))
            {
                var fit = new CrcFit(spot.Place, range, behind, reflectIn, reflectOut, table);
                if (Fits(fit, set, sample))
                    fits.Add(fit);
            }
        }

        return fits;
    }

    /// <summary>Rules that <see cref="Find"/> tries.</summary>
    public static double Count(SearchSpace.Spot spot) => s_kinds[spot.Place.Bits].Length * (double)Shapes(spot).Count();

    private static IEnumerable<(ByteRange Range, int Behind)> Shapes(SearchSpace.Spot spot)
    {
        int most = spot.Place.Bits > 16 ? 0 : 2;
        foreach (var range in spot.Ranges.Where(r => r.Plainness <= 1))
        {
            for (int behind = 0; behind <= most; behind++)
                yield return (range, behind);
        }
    }

    private static bool Fits(CrcFit fit, PayloadSet set, Sample sample)
    {
        for (int i = 0; i < Math.Min(QuickPairs, sample.Pairs.Count); i++)
        {
            if (fit.Residue(set[sample.Pairs[i].A]) != fit.Residue(set[sample.Pairs[i].B]))
                return false;
        }

        return true;
    }
}
