using Locum.Capture;

namespace Locum.Inference.Timing;

/// <summary>Tells how a series is sent: by period, with a fast beginning, by several periods, or by events.</summary>
public static class SendingFinder
{
    // The share of distances that are one period, for a frame to count as cyclic.
    private const double CyclicShare = 0.5;
    private const double SeveralShare = 0.1;
    private const int Sampled = 20_000;
    private const int FewFrames = 5;
    private const int FewDistances = 8;
    private const int MeasuredFrames = 50;
    private const double MostCrowded = 0.05;
    private const double TightShare = 0.02;
    private const double FarOff = 6;
    private const double LeastNear = 0.01;
    private const double FitsAround = 1.2;
    private const double EvenError = 0.05;
    private const int LongestSilence = 10;

    // Two rounds: the second one lays the grid with the mean of the first.
    private const int Rounds = 2;

    // Periods that could have been meant.
    private const double Log10Rules = 2;

    // How near a distance must be, as shares of the period, and how many of random distances are: a little more than twice as much.
    private static readonly (double Near, double Share)[] s_near = [(0.3, 0.7), (0.1, 0.25), (0.03, 0.08), (0.01, 0.03)];

    /// <summary>Looks at all frames of a series.</summary>
    /// <param name="series">The frames.</param>
    /// <param name="parts">Parts of the recording, for what lies before the first and behind the last frame.</param>
    /// <param name="quantumUs">Step of the time stamps, microseconds.</param>
    public static SendingFinding Find(FrameSeries series, IReadOnlyList<RecordingPart> parts, int quantumUs)
    {
        var distances = Distances(series);
        double period = distances.Count < FewDistances ? FewPeriods.Find(distances) : PeriodCluster.Find(distances, out _);
        if (period <= 0 || (series.Count < FewFrames && !FillsRecording(series, parts, period) && !IsEven(series, parts, distances)))
            return Apart(series, series.Count < FewFrames ? SendingKind.Rare : SendingKind.Events);
        // Frames at one and the same time: the stamps are those of a buffer.
        if (distances.Count < series.Count && Crowded(series) > MostCrowded && SteadyNumber.Find(series) is { } steady)
            return steady;
        var beginnings = Beginnings.BehindSilence(series, period);
        var burst = FastBeginning.Find(series, beginnings.Starts, period);
        beginnings = beginnings.WithBurst(series, period, Math.Max(0, burst.Count - 1), burst.PeriodUs);
        burst = beginnings.Fast > 0 ? FastBeginning.Find(series, beginnings.Starts, period) : default;
        var (others, apart) = OtherPeriods.Find(series, period, beginnings);
        beginnings = beginnings with { Apart = apart };
        var grid = TimeGrid.Lay(series, period, quantumUs, beginnings);
        for (int round = 0; round < Rounds; round++)
            grid = TimeGrid.Lay(series, grid.MeanUs, quantumUs, beginnings, Math.Max((FarOff * grid.TypicalOffUs) + (2 * quantumUs), LeastNear * grid.PeriodUs));
        // Few frames say less about the period than the round number near it.
        if (series.Count < MeasuredFrames)
            grid = TimeGrid.Lay(series, NominalTime.Of(grid.MeanUs, ErrorUs(grid, quantumUs)), quantumUs, beginnings, double.MaxValue);
        int explained = apart.Count + ((beginnings.Fast + 1) * beginnings.Starts.Count);
        int tested = series.Count - explained - (grid.Placed - grid.Offs.Count);
        // Where most places of a period stay empty, its frames are events that happened to be even.
        if (grid.Offs.Count < CyclicShare * tested || grid.Missing > series.Count)
            return SteadyNumber.Find(series) ?? Apart(series, SendingKind.Events);
        // Which frame lies between and which on its place shows only when places are narrow.
        var narrow = TimeGrid.Lay(series, grid.PeriodUs, quantumUs, beginnings, toleranceUs: Math.Max((FarOff * grid.TypicalOffUs) + (2 * quantumUs), TightShare * grid.PeriodUs));
        return Cyclic(series, grid, tested, quantumUs) with
        {
            Extras = narrow.Lost > grid.Lost ? grid.Extras : narrow.Extras,
            Kind = apart.Count > SeveralShare * series.Count ? SendingKind.SeveralPeriods : SendingKind.Cyclic,
            BurstCount = beginnings.Fast > 0 ? beginnings.Fast + 1 : 0,
            BurstUs = burst.PeriodUs,
            BurstEvidence = burst.Evidence,
            Others = others,
            Stretches = Stretches(series, grid, beginnings, burst.PeriodUs),
        };
    }

    private static SendingFinding Cyclic(FrameSeries series, TimeGrid grid, int tested, int quantumUs)
    {
        double[] offs = Offs(grid);
        return new SendingFinding
        {
            Kind = SendingKind.Cyclic,
            MeanUs = grid.MeanUs,
            NominalUs = NominalTime.Of(grid.MeanUs, ErrorUs(grid, quantumUs)),
            JitterUs = Jitter(offs),
            Evidence = s_near.Select(n => Judge(offs, n.Near * grid.MeanUs, n.Share, Math.Max(tested, offs.Length)))
                .OrderByDescending(e => e.Confidence).ThenBy(e => e.Contradictions).ThenBy(e => e.Log10Chance).First(),
            Missing = grid.Missing,
            Extra = grid.Extra,
            Steps = grid.Steps,
            Stretches = [],
        };
    }

    private static double Crowded(FrameSeries series)
    {
        int crowded = 0;
        foreach (var run in series.Runs)
            for (int i = run.First + 1; i < run.End; i++)
                crowded += series.TimesUs[i] - series.TimesUs[i - 1] < FastBeginning.LeastUs ? 1 : 0;
        return (double)crowded / series.Count;
    }

    private static double[] Offs(TimeGrid grid) => [.. grid.Offs.Select(o => Math.Abs(o + grid.PeriodUs - grid.MeanUs)).Order()];

    private static double Jitter(double[] offs) => offs.Length > 0 ? offs[(int)(offs.Length * 0.95)] : 0;

    // By how much jitter may have spoiled the mean.
    private static double ErrorUs(TimeGrid grid, int quantumUs) => ((2 * Jitter(Offs(grid))) + quantumUs) / Math.Max(1, grid.Offs.Count);

    private static Evidence Judge(double[] offs, double nearUs, double share, int tested)
    {
        int hits = offs.Count(o => o <= nearUs);
        return new Evidence(tested, hits, hits, Chance.OverRules(Chance.Log10Tail(tested, hits, share), Log10Rules));
    }

    private static List<long> Distances(FrameSeries series)
    {
        var distances = new List<long>();
        foreach (var run in series.Runs)
            for (int i = run.First + 1; i < run.End && distances.Count < Sampled; i++)
                if (series.TimesUs[i] > series.TimesUs[i - 1])
                    distances.Add(series.TimesUs[i] - series.TimesUs[i - 1]);
        return distances;
    }

    // A few even distances are a period when there was no room for one more frame before and behind.
    private static bool FillsRecording(FrameSeries series, IReadOnlyList<RecordingPart> parts, double periodUs) =>
        series.Runs.All(r => series.TimesUs[r.First] - parts[r.Part].StartUs <= FitsAround * periodUs
            && parts[r.Part].EndUs - series.TimesUs[r.End - 1] <= FitsAround * periodUs);

    // Or when at least two are equal, none is shorter, and the recording does not go on long without the frame.
    private static bool IsEven(FrameSeries series, IReadOnlyList<RecordingPart> parts, List<long> distances)
    {
        long shortest = distances.DefaultIfEmpty(0).Min();
        var last = series.Runs[^1];
        return distances.Count(d => d <= shortest * (1 + EvenError)) > 1
            && parts[last.Part].EndUs - series.TimesUs[last.End - 1] <= LongestSilence * shortest;
    }

    private static List<Stretch> Stretches(FrameSeries series, TimeGrid grid, Beginnings beginnings, long fastUs) =>
        [.. beginnings.Starts.Select((start, i) => new Stretch(start, beginnings.EndOf(series, i) - start,
            series.Runs.First(r => start < r.End).Part, grid.ReleasesUs[i] - (beginnings.Fast * (double)fastUs)))];

    private static SendingFinding Apart(FrameSeries series, SendingKind kind) => new()
    {
        Kind = kind,
        Steps = SteadyNumber.StepsByRun(series),
        Stretches = SteadyNumber.StretchesByRun(series),
    };
}
