namespace Locum.Budgeting;

/// <summary>Runs a group of cyclic frames over their common period: priorities, no preemption, the bus for themselves.</summary>
public static class OffsetTimeline
{
    // Periods without a short common multiple are followed for that long only.
    private const long LongestUs = 20_000_000;

    /// <summary>The time after which everything repeats, or the longest that is looked at, µs.</summary>
    public static long CommonUs(IEnumerable<long> periods)
    {
        long common = 1;
        foreach (var period in periods)
        {
            common = common / Gcd(common, period) * period;
            if (common > LongestUs)
                return LongestUs;
        }
        return common;
    }

    /// <summary>Exact figures of the group.</summary>
    public static OffsetFigures Measure(IReadOnlyList<OffsetFrame> frames)
    {
        if (frames.Count is 0)
            return default;
        // Behind the last start one common period is the steady state; the beginning is measured as well.
        var end = frames.Max(f => f.OffsetUs) + (2 * CommonUs(frames.Select(f => f.PeriodUs)));
        var releases = frames.SelectMany(f => Releases(f, end)).OrderBy(r => r.AtUs).ToList();
        return new OffsetFigures(Peak(releases), Worst(releases));
    }

    private static long Peak(List<(long AtUs, OffsetFrame Frame)> releases)
    {
        long work = 0, last = 0, peak = 0;
        foreach (var (at, frame) in releases)
        {
            work = Math.Max(0, work - (at - last)) + frame.SlotUs;
            last = at;
            peak = Math.Max(peak, work);
        }
        return peak;
    }

    private static long Worst(List<(long AtUs, OffsetFrame Frame)> releases)
    {
        var waiting = new PriorityQueue<(long AtUs, OffsetFrame Frame), (int Priority, long AtUs)>();
        long free = 0, worst = 0;
        for (var next = 0; next < releases.Count || waiting.Count > 0;)
        {
            if (waiting.Count is 0)
                free = Math.Max(free, releases[next].AtUs);
            for (; next < releases.Count && releases[next].AtUs <= free; next++)
                waiting.Enqueue(releases[next], (releases[next].Frame.Priority, releases[next].AtUs));
            var (at, frame) = waiting.Dequeue();
            free += frame.SlotUs;
            worst = Math.Max(worst, free - at);
        }
        return worst;
    }

    private static IEnumerable<(long AtUs, OffsetFrame Frame)> Releases(OffsetFrame frame, long end)
    {
        for (var at = frame.OffsetUs; at < end; at += frame.PeriodUs)
            yield return (at, frame);
    }

    private static long Gcd(long a, long b) => b is 0 ? a : Gcd(b, a % b);
}
