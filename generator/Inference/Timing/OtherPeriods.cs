using Locum.Capture;

namespace Locum.Inference.Timing;

/// <summary>Finds periods beside the main one that hold for a few frames in a row.</summary>
internal static class OtherPeriods
{
    private const double Alike = 0.25;
    private const int Least = 3;

    // Lost frames double a distance as well; but seldom so often in a row.
    private const int LeastMultiple = 4;
    private const int Most = 3;

    /// <summary>The periods, most frames first, and the indexes of the frames that come by them.</summary>
    /// <param name="series">The frames.</param>
    /// <param name="periodUs">The main period.</param>
    /// <param name="beginnings">Where sending begins.</param>
    public static (IReadOnlyList<OtherPeriod> Periods, IReadOnlySet<int> Frames) Find(FrameSeries series, double periodUs, Beginnings beginnings)
    {
        var rows = new List<(double Median, int Count)>();
        var frames = new HashSet<int>();
        for (int s = 0; s < beginnings.Starts.Count; s++)
            Collect(series.TimesUs, beginnings.Starts[s] + beginnings.Fast, beginnings.EndOf(series, s), periodUs, rows, frames);
        var groups = new List<List<(double Median, int Count)>>();
        foreach (var row in rows.OrderByDescending(r => r.Count))
        {
            if (groups.Find(g => Math.Abs(row.Median - g[0].Median) <= Alike * g[0].Median) is { } group)
                group.Add(row);
            else
                groups.Add([row]);
        }
        return ([.. groups.Select(g => new OtherPeriod(g.Sum(r => r.Median * r.Count) / g.Sum(r => r.Count), g.Count, g.Sum(r => r.Count)))
            .OrderByDescending(o => o.Frames).Take(Most)], frames);
    }

    private static void Collect(ReadOnlySpan<long> times, int first, int end, double periodUs, List<(double, int)> rows, HashSet<int> frames)
    {
        int next = first + 1;
        var row = new List<long>();
        for (int i = first + 1; i < end; i++)
        {
            long distance = times[i] - times[i - 1];
            bool main = Math.Abs(distance - periodUs) <= TimeGrid.Tolerance * periodUs;
            bool goesOn = distance >= FastBeginning.LeastUs && (row.Count is 0 || Math.Abs(distance - row[0]) <= Alike * row[0]);
            next = i;
            if (main || !goesOn)
                Close();
            if (!main && distance >= FastBeginning.LeastUs)
                row.Add(distance);
        }
        next = end;
        Close();

        void Close()
        {
            double median = PeriodCluster.Median(row);
            double multiple = Math.Round(median / periodUs);
            bool lost = multiple >= 1 && Math.Abs(median - (multiple * periodUs)) <= TimeGrid.Tolerance * periodUs;
            if (row.Count >= (lost ? LeastMultiple : Least))
            {
                rows.Add((median, row.Count));
                frames.UnionWith(Enumerable.Range(next - row.Count, row.Count));
            }
            row.Clear();
        }
    }
}
