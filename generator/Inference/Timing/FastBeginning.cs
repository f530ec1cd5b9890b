using Locum.Capture;

namespace Locum.Inference.Timing;

/// <summary>Finds frames that come faster than the period whenever sending begins.</summary>
internal static class FastBeginning
{
    private const double Faster = 0.75;
    private const double Alike = 0.3;
    private const int Most = 254;

    /// <summary>Shorter distances are no period: loggers that empty a buffer stamp its frames as if they had come right behind one another.</summary>
    public const long LeastUs = 500;
    private const double Log10Rules = 2;

    /// <summary>The first frames' number, distance and evidence; number 0 when starts begin at the usual pace.</summary>
    public static (int Count, long PeriodUs, Evidence Evidence) Find(FrameSeries series, IReadOnlyList<int> starts, double periodUs)
    {
        var found = new List<(int Fast, double Median)>();
        foreach (int start in starts)
            found.Add(At(series, start, periodUs));
        var seen = found.Where(f => f.Fast > 0).ToList();
        // A recording that begins in the middle shows no beginning; a start behind silence does.
        if (seen.Count is 0 || seen.Count < found.Count - 1)
            return default;
        var usual = seen.GroupBy(f => f.Fast).OrderByDescending(g => g.Count()).ThenByDescending(g => g.Key).First();
        if (usual.Key is 1 && usual.Count() < 2)
            return default;
        long distance = NominalTime.Of(usual.Average(f => f.Median), 1_000.0 / usual.Key);
        int hits = usual.Count();
        // By chance each further fast distance would be of the same length in about one of four cases.
        double log10 = Chance.OverRules(Chance.Log10Tail(hits * usual.Key, hits * usual.Key, 0.25), Log10Rules);
        return (usual.Key + 1, distance, new Evidence(seen.Count, hits, hits, log10));
    }

    private static (int Fast, double Median) At(FrameSeries series, int start, double periodUs)
    {
        var times = series.TimesUs;
        int end = series.Runs.First(r => start < r.End).End;
        var fast = new List<long>();
        for (int i = start + 1; i < end && fast.Count < Most; i++)
        {
            long distance = times[i] - times[i - 1];
            if (distance > Faster * periodUs || distance < LeastUs || (fast.Count > 0 && Math.Abs(distance - PeriodCluster.Median(fast)) > Alike * PeriodCluster.Median(fast)))
                break;
            fast.Add(distance);
        }
        return (fast.Count, PeriodCluster.Median(fast));
    }
}
