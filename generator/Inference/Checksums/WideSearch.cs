using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>Tries the CRC-32 and CRC-64 of the catalogue; their width makes a few payloads decisive.</summary>
internal static class WideSearch
{
    private const int QuickPairs = 4;

    /// <summary>Widths to try.</summary>
    public static IReadOnlyList<int> Widths { get; } = [32, 64];

    private static readonly Dictionary<int, (ulong Poly, bool ReflectIn, bool ReflectOut)[]> s_kinds = Widths.ToDictionary(
        w => w,
        w => CrcCatalogue.Entries.Where(e => e.Parameters.Width == w).Select(e => (e.Parameters.Poly, e.Parameters.ReflectIn, e.Parameters.ReflectOut)).Distinct().ToArray());

    /// <summary>The catalogue's CRCs at a place that fit a sample, whatever their constant.</summary>
    public static IReadOnlyList<CrcFit> Find(PayloadSet set, SearchSpace.Spot spot, Sample sample)
    {
        var fits = new List<CrcFit>();
        foreach (var range in spot.Ranges.Where(Tried))
        {
            foreach (var (poly, reflectIn, reflectOut) in s_kinds[spot.Place.Bits])
            {
                var fit = new CrcFit(spot.Place, range, 0, reflectIn, reflectOut, poly);
                if (sample.Pairs.Take(QuickPairs).All(p => fit.Residue(set[p.A]) == fit.Residue(set[p.B])))
                    fits.Add(fit);
            }
        }

        return fits;
    }

    /// <summary>Rules that <see cref="Find"/> tries.</summary>
    public static double Count(SearchSpace.Spot spot) => s_kinds[spot.Place.Bits].Length * (double)spot.Ranges.Count(Tried);

    private static bool Tried(ByteRange range) => range.Plainness <= 1;
}
