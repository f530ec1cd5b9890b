using Locum.Wire;

namespace Locum.Capture;

/// <summary>Finds out which bus of one capture or description is which of another.</summary>
public static class BusMatching
{
    // As much in common with a bus of another name outweighs a name.
    private const double StrongOverlap = 0.5;
    private const int StrongCount = 3;

    /// <summary>
    /// For each wanted bus the number of the bus that it is, or null; no bus is taken twice. Buses of one name belong together
    /// unless their identifiers have nothing in common while those of another bus fit; the others by their identifiers.
    /// </summary>
    /// <param name="wanted">Names and identifiers of the buses to find.</param>
    /// <param name="given">Names and identifiers of the buses at hand.</param>
    public static IReadOnlyList<BusPair> Match(IReadOnlyList<BusIds> wanted, IReadOnlyList<BusIds> given)
    {
        var pairs = new BusPair[wanted.Count];
        Array.Fill(pairs, new BusPair(null, BusPairing.None, 0));
        var overlaps = wanted.Select(w => given.Select(g => Overlap(w.Ids, g.Ids)).ToArray()).ToArray();
        for (var w = 0; w < wanted.Count; w++)
            for (var g = 0; g < given.Count; g++)
                if (string.Equals(wanted[w].Name, given[g].Name, StringComparison.OrdinalIgnoreCase) && Taken(g) is false
                    && (overlaps[w][g] > 0 || !given.Where((o, i) => overlaps[w][i] >= StrongOverlap && wanted[w].Ids.Count(o.Ids.Contains) >= StrongCount).Any()))
                    pairs[w] = new BusPair(g, BusPairing.Name, overlaps[w][g]);
        while (Best() is var (bus, at))
            pairs[bus] = new BusPair(at, BusPairing.Identifiers, overlaps[bus][at]);
        // What is left when there is only one of each.
        if (wanted.Count is 1 && given.Count is 1 && pairs[0].Bus is null)
            pairs[0] = new BusPair(0, BusPairing.OnlyOne, overlaps[0][0]);
        return pairs;

        bool Taken(int g) => pairs.Any(p => p.Bus == g);

        (int Bus, int At)? Best()
        {
            (int Bus, int At)? best = null;
            var most = 0.0;
            for (var w = 0; w < wanted.Count; w++)
                for (var g = 0; g < given.Count; g++)
                    if (pairs[w].Bus is null && !Taken(g) && overlaps[w][g] > most)
                        (best, most) = ((w, g), overlaps[w][g]);
            return best;
        }
    }

    /// <summary>The buses of a capture with their identifiers.</summary>
    public static IReadOnlyList<BusIds> Of(Recording recording) =>
        [.. recording.Buses.Select((name, bus) => new BusIds(name, recording.Series.Where(s => s.Bus == bus).Select(s => s.Id).ToHashSet()))];

    // Of the smaller set, so that a description with three identifiers fits a bus with a hundred.
    private static double Overlap(IReadOnlySet<CanId> a, IReadOnlySet<CanId> b) =>
        a.Count is 0 || b.Count is 0 ? 0 : (double)a.Count(b.Contains) / Math.Min(a.Count, b.Count);
}

/// <summary>A bus by its name and the identifiers on it.</summary>
public sealed record BusIds(string Name, IReadOnlySet<CanId> Ids);

/// <summary>The bus that another one is.</summary>
/// <param name="Bus">Its number; null when there is none.</param>
/// <param name="Overlap">Share of the identifiers of the poorer one that both have, 0 to 1.</param>
public readonly record struct BusPair(int? Bus, BusPairing How, double Overlap);

/// <summary>How two buses were recognised as one.</summary>
public enum BusPairing
{
    None,
    Name,
    Identifiers,

    /// <summary>There is one bus on either side.</summary>
    OnlyOne,
}
