namespace Locum.Budgeting;

/// <summary>
/// Chooses offsets so that frames that start together keep out of each other's way: each frame goes where the time
/// slots of all its releases are emptiest (after Grenier, Havet, Navet, "Pushing the limits of CAN", 2008, from memory),
/// then frames are taken out and placed anew as long as that helps.
/// </summary>
public static class OffsetOptimiser
{
    /// <summary>Offsets are whole numbers of this, µs.</summary>
    public const long StepUs = 500;

    private const int MostRounds = 30;

    /// <summary>The frames with new offsets, below their periods; the same frames when no choice is better than the present one.</summary>
    public static IReadOnlyList<OffsetFrame> Optimise(IReadOnlyList<OffsetFrame> frames)
    {
        var best = frames;
        var figures = OffsetTimeline.Measure(frames);
        var slots = (int)(OffsetTimeline.CommonUs(frames.Select(f => f.PeriodUs).Append(StepUs)) / StepUs);
        foreach (var candidate in Candidates(frames, slots))
        {
            var measured = OffsetTimeline.Measure(candidate);
            if (!measured.Improves(figures))
                continue;
            (best, figures) = (candidate, measured);
        }
        return best;
    }

    // The present offsets improved, and new ones in two orders.
    private static IEnumerable<IReadOnlyList<OffsetFrame>> Candidates(IReadOnlyList<OffsetFrame> frames, int slots)
    {
        var byPeriod = Enumerable.Range(0, frames.Count).OrderBy(i => frames[i].PeriodUs).ThenBy(i => frames[i].Priority).ToList();
        var byLoad = Enumerable.Range(0, frames.Count).OrderByDescending(i => (double)frames[i].SlotUs / frames[i].PeriodUs).ThenBy(i => frames[i].Priority).ToList();
        foreach (var order in new[] { byPeriod, byLoad })
        {
            yield return Place(frames, order, slots, fresh: true);
            yield return Place(frames, order, slots, fresh: false);
        }
    }

    private static IReadOnlyList<OffsetFrame> Place(IReadOnlyList<OffsetFrame> frames, List<int> order, int slots, bool fresh)
    {
        var offsets = frames.Select(f => f.OffsetUs % f.PeriodUs / StepUs * StepUs).ToArray();
        var load = new long[slots];
        foreach (var i in order)
        {
            if (fresh)
                offsets[i] = Emptiest(frames[i], load, long.MaxValue, 0);
            Add(load, frames[i], offsets[i], 1);
        }
        for (var (round, moved) = (0, true); moved && round < MostRounds; round++)
        {
            moved = false;
            foreach (var i in order)
            {
                Add(load, frames[i], offsets[i], -1);
                var better = Emptiest(frames[i], load, Cost(frames[i], offsets[i], load), offsets[i]);
                moved |= better != offsets[i];
                offsets[i] = better;
                Add(load, frames[i], offsets[i], 1);
            }
        }
        return [.. frames.Select((f, i) => f with { OffsetUs = offsets[i] })];
    }

    private static long Emptiest(OffsetFrame frame, long[] load, long cost, long present)
    {
        var best = present;
        for (long offset = 0; offset < frame.PeriodUs && cost > 0; offset += StepUs)
        {
            var found = Cost(frame, offset, load);
            if (found < cost)
                (best, cost) = (offset, found);
        }
        return best;
    }

    // What a release meets in the slots that the frame would take: the fullest place counts most, then all of them.
    private static long Cost(OffsetFrame frame, long offset, long[] load)
    {
        long most = 0, sum = 0;
        for (var at = offset; at < load.Length * StepUs; at += frame.PeriodUs)
        {
            long met = 0;
            for (var (slot, left) = (at / StepUs, frame.SlotUs); left > 0; slot++, left -= StepUs)
                met += load[slot % load.Length];
            most = Math.Max(most, met);
            sum += met;
        }
        return (most << 32) + Math.Min(sum, uint.MaxValue);
    }

    // A frame takes the slots that it would be on the wire if it met nobody.
    private static void Add(long[] load, OffsetFrame frame, long offset, int sign)
    {
        for (var at = offset; at < load.Length * StepUs; at += frame.PeriodUs)
            for (var (slot, left) = (at / StepUs, frame.SlotUs); left > 0; slot++, left -= StepUs)
                load[slot % load.Length] += sign * Math.Min(left, StepUs);
    }
}
