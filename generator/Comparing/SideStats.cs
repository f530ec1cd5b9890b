namespace Locum.Comparing;

/// <summary>An identifier in all captures of one kind.</summary>
internal sealed class SideStats
{
    public SideStats(IReadOnlyList<SightStats> captures)
    {
        Captures = captures;
        Count = captures.Sum(c => (long)c.Count);
        AwakeUs = captures.Sum(c => c.Awake.TotalUs);
        Present = captures.Count(c => c.Count > 0);
        StartUs = captures.Where(c => c.Count > 0).Select(c => c.StartUs).DefaultIfEmpty(0).Max();
        LongestSilenceUs = captures.Count is 0 ? 0 : captures.Where(c => c.Count > 0).Select(c => c.LongestSilenceUs).DefaultIfEmpty(AwakeUs).Max();
        var periods = captures.Select(c => c.PeriodUs).OfType<double>().Order().ToList();
        PeriodUs = periods.Count is 0 || periods.Count < Present ? null : periods[periods.Count / 2];
    }

    /// <summary>Captures that have the bus.</summary>
    public IReadOnlyList<SightStats> Captures { get; }

    /// <summary>Frames.</summary>
    public long Count { get; }

    /// <summary>Time in which the bus was awake, µs.</summary>
    public long AwakeUs { get; }

    /// <summary>Captures with the identifier.</summary>
    public int Present { get; }

    /// <summary>The longest time without it in captures that have it, µs.</summary>
    public long LongestSilenceUs { get; }

    /// <summary>The usual distance; null when it does not come by a period in every capture that has it.</summary>
    public double? PeriodUs { get; }

    /// <summary>The longest time from the begin of a capture to the first frame, as far as that is a start-up, µs.</summary>
    public long StartUs { get; }

    /// <summary>Time in which it can have come: in captures that have it behind its start, µs.</summary>
    public long LivingUs => Captures.Sum(c => c.Awake.TotalUs - (c.Count > 0 ? c.StartUs : 0));

    /// <summary>Time of other captures in which it ought to have come, behind its longest start, µs.</summary>
    public long Unseen(SideStats other) => other.Captures.Sum(c => Math.Max(0, c.Awake.TotalUs - StartUs));

    /// <summary>Frames to be expected in a time at the same rate.</summary>
    public double Expected(long awakeUs) => LivingUs is 0 ? 0 : (double)Count * awakeUs / LivingUs;

    /// <summary>
    /// Independent signs of life: frames, but not more than the times that the longest silence fits in. What comes in bunches,
    /// or only at the begin, proves less than its number says.
    /// </summary>
    public double Signs => Math.Min(Count, LongestSilenceUs is 0 ? Count : (double)LivingUs / LongestSilenceUs);
}
