namespace Locum.Inference.Timing;

/// <summary>Finds the distance that most of a series' time consists of.</summary>
internal static class PeriodCluster
{
    // Distances count as one period when the longest is at most half as long again as the shortest.
    private const double Width = 1.5;

    // A pause or two are no period, however long they are.
    private const double LeastShare = 0.03;

    /// <summary>
    /// The median of the cluster of similar distances that covers most time; 0 when there are none. Time, not number,
    /// decides: a second of fast frames at the start does not outweigh a minute of slow ones.
    /// </summary>
    /// <param name="distances">Microseconds, above 0, in any order.</param>
    /// <param name="share">The share of all time that the cluster covers.</param>
    public static double Find(IReadOnlyCollection<long> distances, out double share)
    {
        long[] sorted = [.. distances.Order()];
        double total = sorted.Sum(d => (double)d);
        double least = LeastShare * sorted.Length;
        var best = (Time: 0.0, First: 0, Last: -1);
        double time = 0;
        int last = -1;
        for (int first = 0; first < sorted.Length; first++)
        {
            while (last + 1 < sorted.Length && sorted[last + 1] <= sorted[first] * Width)
                time += sorted[++last];
            if (time > best.Time && last - first + 1 >= least)
                best = (time, first, last);
            time -= sorted[first];
        }
        share = total > 0 ? best.Time / total : 0;
        return best.Last < 0 ? 0 : Middle(sorted, best.First, best.Last);
    }

    /// <summary>The median of a few distances.</summary>
    public static double Median(IReadOnlyCollection<long> distances)
    {
        long[] sorted = [.. distances.Order()];
        return sorted.Length is 0 ? 0 : Middle(sorted, 0, sorted.Length - 1);
    }

    // Between two clusters at both ends, as time stamps in whole milliseconds make them, the mean of the inner half.
    private static double Middle(long[] sorted, int first, int last)
    {
        int quarter = (last - first) / 4;
        double sum = 0;
        for (int i = first + quarter; i <= last - quarter; i++)
            sum += sorted[i];
        return sum / (last - first + 1 - (2 * quarter));
    }
}
