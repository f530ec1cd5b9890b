using Locum.Capture;
using Locum.Inference.Timing;

namespace Locum.Inference.Relations;

/// <summary>Finds the identifier whose frames a series answers: each answered once, no answer without one.</summary>
public static class AnswerFinder
{
    private const int LeastPairs = 3;
    private const long LongestUs = 250_000;
    private const double LeastPaired = 0.8;
    private const double Log10Doubt = -1.5;
    private const double LeastJitterUs = 2_000;
    private const double Narrower = 4;

    /// <summary>The best candidate; null when none pairs better than chance.</summary>
    /// <param name="series">The answers.</param>
    /// <param name="sending">How they are sent.</param>
    /// <param name="others">Series that may be requests.</param>
    /// <param name="parts">Parts of the recording.</param>
    /// <param name="quantumUs">Step of the time stamps, microseconds.</param>
    public static AnswerFinding? Find(FrameSeries series, SendingFinding sending, IReadOnlyList<FrameSeries> others, IReadOnlyList<RecordingPart> parts, int quantumUs)
    {
        if (series.Count < LeastPairs || sending.BurstCount > 0)
            return null;
        AnswerFinding? best = null;
        foreach (var other in others)
            if (other.Bus == series.Bus && other.Count <= series.Count / LeastPaired && other.Count >= series.Count * LeastPaired
                && Pair(series, sending, other, parts, quantumUs, Math.Log10(others.Count)) is { } found
                && (best is null || found.Evidence.Log10Chance < best.Evidence.Log10Chance))
                best = found;
        return best;
    }

    private static AnswerFinding? Pair(FrameSeries series, SendingFinding sending, FrameSeries other, IReadOnlyList<RecordingPart> parts, int quantumUs, double log10Rules)
    {
        var delays = new List<long>();
        var answered = new HashSet<int>();
        foreach (var run in series.Runs)
            for (int i = run.First; i < run.End; i++)
                if (LastBefore.Index(other, run.Part, series.TimesUs[i], series.Orders[i]) is >= 0 and var request
                    && series.TimesUs[i] - other.TimesUs[request] <= LongestUs && answered.Add(request))
                    delays.Add(series.TimesUs[i] - other.TimesUs[request]);
        int all = series.Count + other.Count;
        if (delays.Count < LeastPairs || 2 * delays.Count < LeastPaired * all)
            return null;
        delays.Sort();
        double log10 = sending.IsCyclic
            ? Locked(series, sending, other, parts, delays, quantumUs)
            : Chance.Log10Tail(delays.Count, delays.Count, Math.Min(0.5, (delays[^1] + quantumUs) * (double)other.Count / parts.Sum(p => Math.Max(1, p.DurationUs))));
        if (log10 + log10Rules > Log10Doubt || (sending.IsCyclic && (delays[^1] > sending.MeanUs / 2 || delays.Count < all / 2)))
            return null;
        return new AnswerFinding
        {
            Request = other,
            AfterUs = PeriodCluster.Median(delays),
            RangeUs = (delays[0], delays[^1]),
            Evidence = new Evidence(all, 2 * delays.Count, delays.Count, Chance.OverRules(log10, log10Rules)),
        };
    }

    // Two frames with one period pair by themselves. They belong together when both begin and end at once within the recording, or when
    // the one follows the other's jitter.
    private static double Locked(FrameSeries series, SendingFinding sending, FrameSeries other, IReadOnlyList<RecordingPart> parts, List<long> delays, int quantumUs)
    {
        double log10 = 0;
        double width = Math.Max(quantumUs, delays[(int)(delays.Count * 0.95)] - delays[(int)(delays.Count * 0.05)]);
        // Arbitration makes frames follow one another closely, too, but not by so much.
        if (sending.JitterUs > LeastJitterUs && sending.JitterUs > Narrower * width)
            log10 += delays.Count * Math.Log10(width / (2 * sending.JitterUs));
        for (int r = 0; r < other.Runs.Count; r++)
        {
            var run = other.Runs[r];
            var part = parts[run.Part];
            double within = Math.Log10(Math.Min(1, sending.MeanUs / Math.Max(1, part.DurationUs)));
            if (other.TimesUs[run.First] - part.StartUs > 2 * sending.MeanUs)
                log10 += within;
            if (part.EndUs - other.TimesUs[run.End - 1] > 2 * sending.MeanUs)
                log10 += within;
        }
        return series.Count == other.Count ? log10 : log10 / 2;
    }
}
