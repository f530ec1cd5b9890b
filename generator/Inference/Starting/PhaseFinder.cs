namespace Locum.Inference.Starting;

/// <summary>
/// Finds stages after a start from what changes there: values that become others, frames that begin later. Each says that a
/// stage ended within some time; what can have one cause is given one.
/// </summary>
public static class PhaseFinder
{
    private const int Most = 3;

    /// <summary>A change after the start.</summary>
    /// <param name="AfterUs">The stage ended later than this, microseconds after the start.</param>
    /// <param name="UntilUs">And not later than this.</param>
    public readonly record struct Hint(long AfterUs, long UntilUs);

    /// <summary>The stages.</summary>
    /// <param name="hints">What was seen at the start that is described.</param>
    /// <param name="otherStarts">What was seen at other starts.</param>
    /// <param name="windowUs">Hints were looked for so long after each start.</param>
    public static PhaseFinding Find(IReadOnlyList<Hint> hints, IReadOnlyList<IReadOnlyList<Hint>> otherStarts, long windowUs)
    {
        var ends = new List<long>();
        var evidence = new List<Evidence>();
        // Each time the hint that ends first decides; all that have the same stretch in common go with it.
        var open = hints.OrderBy(h => h.UntilUs).ToList();
        while (open.Count > 0 && ends.Count < Most)
        {
            long until = open[0].UntilUs;
            long after = open.Where(h => h.AfterUs < until).Max(h => h.AfterUs);
            long end = Timing.NominalTime.Within(after, until);
            open.RemoveAll(h => h.AfterUs < end && end <= h.UntilUs);
            ends.Add(end);
            evidence.Add(Judge(after, until, otherStarts, windowUs));
        }
        return new PhaseFinding(ends, evidence);
    }

    // By chance a change of another start would lie as near with the share of the window that both stretches cover.
    private static Evidence Judge(long after, long until, IReadOnlyList<IReadOnlyList<Hint>> otherStarts, long windowUs)
    {
        int hits = otherStarts.Count(s => s.Any(h => h.AfterUs < until && h.UntilUs > after));
        double share = Math.Clamp(2.0 * (until - after) / windowUs, 1e-3, 0.9);
        return new Evidence(otherStarts.Count + 1, hits + 1, hits + 1, Chance.Log10Tail(otherStarts.Count, hits, share));
    }
}
