using Locum.Capture;

namespace Locum.Inference.Timing;

/// <summary>
/// Recognises a period behind time stamps that say little, as of loggers that empty a buffer now and then: single distances
/// are anything, but the number of frames grows evenly.
/// </summary>
internal static class SteadyNumber
{
    private const int LeastFrames = 50;

    // Frames at random stray from an even count by about half the root of their number.
    private const double StraysLess = 0.25;
    private const double ErrorShare = 0.5;
    private const double Log10Rules = 2;

    /// <summary>The finding; null when the number does not grow evenly.</summary>
    public static SendingFinding? Find(FrameSeries series)
    {
        var run = series.Runs.MaxBy(r => r.Count);
        if (run.Count < LeastFrames)
            return null;
        var times = series.TimesUs.Slice(run.First, run.Count);
        double mean = (times[^1] - times[0]) / (run.Count - 1.0);
        if (mean <= 0)
            return null;
        var offs = new double[run.Count];
        for (int i = 0; i < run.Count; i++)
            offs[i] = times[i] - times[0] - (mean * i);
        Array.Sort(offs);
        double width = offs[(int)(run.Count * 0.95)] - offs[(int)(run.Count * 0.05)];
        if (width > StraysLess * Math.Sqrt(run.Count) * mean)
            return null;
        return new SendingFinding
        {
            Kind = SendingKind.Cyclic,
            ByNumber = true,
            MeanUs = mean,
            NominalUs = NominalTime.Of(mean, ErrorShare * width / run.Count),
            JitterUs = width / 2,
            Evidence = new Evidence(run.Count, run.Count, run.Count, Chance.OverRules(Log10Even(width / (Math.Sqrt(run.Count) * mean)), Log10Rules)),
            Steps = StepsByRun(series),
            Stretches = StretchesByRun(series),
        };
    }

    // The chance that frames at random keep so even: the leading term of Kuiper's distribution for small widths (from memory).
    private static double Log10Even(double width) => width > 0 ? -Math.PI * Math.PI / (2 * width * width) / Math.Log(10) : double.NegativeInfinity;

    /// <summary>Steps where nothing is known but the order.</summary>
    public static byte[] StepsByRun(FrameSeries series)
    {
        var steps = new byte[series.Count];
        Array.Fill(steps, (byte)1);
        foreach (var run in series.Runs)
            steps[run.First] = 0;
        return steps;
    }

    /// <summary>One stretch for each run.</summary>
    public static IReadOnlyList<Stretch> StretchesByRun(FrameSeries series) =>
        [.. series.Runs.Select(r => new Stretch(r.First, r.Count, r.Part, series.TimesUs[r.First]))];
}
