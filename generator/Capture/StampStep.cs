namespace Locum.Capture;

/// <summary>Finds the steps in which a logger counts time.</summary>
public static class StampStep
{
    private const double EnoughOnGrid = 0.99;
    private const double ManyEqual = 0.05;
    private const int EnoughDistances = 100;
    private const double LowEnd = 0.01;

    // Round steps of loggers, in microseconds; below the last one a capture in microseconds shows nothing.
    private static readonly long[] s_round = [10_000, 5_000, 2_000, 1_000, 500, 250, 200, 100, 50, 20, 10, 5, 2];

    /// <summary>
    /// The step in microseconds, at least 1: the largest round one on which nearly all times lie; or, when many frames of
    /// one bus share their time, the smallest usual distance between different times.
    /// </summary>
    public static long Of(Recording recording)
    {
        var times = new List<long>();
        var equal = 0;
        var distances = new List<long>();
        foreach (var bus in recording.Series.GroupBy(s => s.Bus))
        {
            var stamps = bus.SelectMany(s => s.TimesUs.ToArray()).Order().ToList();
            times.AddRange(stamps);
            for (var i = 1; i < stamps.Count; i++)
            {
                if (stamps[i] == stamps[i - 1])
                    equal++;
                else
                    distances.Add(stamps[i] - stamps[i - 1]);
            }
        }
        if (times.Count < 3)
            return 1;
        var middle = times[times.Count / 2];
        var round = s_round.FirstOrDefault(s => times.Count(t => (t - middle) % s is 0) >= EnoughOnGrid * times.Count, 1);
        if (round > s_round[^1] || equal <= ManyEqual * times.Count || distances.Count < EnoughDistances)
            return round;
        distances.Sort();
        return Math.Max(round, distances[(int)(LowEnd * distances.Count)]);
    }
}
