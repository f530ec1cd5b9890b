using Locum.Capture;
using Locum.Inference;
using Locum.Wire;

namespace Locum.Comparing;

/// <summary>
/// Whether two identifiers are released by one clock: their phases keep still against each other over a capture, and
/// are the same after every start.
/// </summary>
internal static class PhaseLock
{
    /// <summary>Two crystals run apart by up to so much (50 ppm each, from memory).</summary>
    private const double ApartPpm = 100;

    private const double PpmToShare = 1e-6;
    private const double MultipleShare = 0.02;
    private const int Enough = 8;
    private const double Slack = 3;

    /// <summary>What speaks for one clock over all captures that have both; null when nothing does.</summary>
    /// <param name="stepUs">Time step of the captures.</param>
    public static (Evidence Evidence, double PhaseUs)? Of(IReadOnlyList<(SightStats A, SightStats B)> captures, long stepUs)
    {
        var chance = 0.0;
        var (tested, hits) = (0, 0);
        var phases = new List<double>();
        var fast = 0.0;
        foreach (var (a, b) in captures)
        {
            if (a.PeriodUs is not { } one || b.PeriodUs is not { } other || a.Count < Enough || b.Count < Enough)
                continue;
            var (quick, slow) = one <= other ? (a, b) : (b, a);
            fast = Math.Min(one, other);
            var ratio = Math.Max(one, other) / fast;
            if (Math.Abs(ratio - Math.Round(ratio)) > MultipleShare * ratio)
                return null;
            tested++;
            if (Drift(quick.Series!, slow.Series!, fast, stepUs) is not { } drift)
                continue;
            hits++;
            chance += Math.Log10(Math.Min(1, drift.Ppm / ApartPpm));
            // Every start after the first could have brought another phase.
            if (phases.Count > 0)
                chance += phases.Exists(p => Around(p - drift.PhaseUs, fast) <= drift.WidthUs) ? Math.Log10(Math.Min(1, 2 * drift.WidthUs / fast)) : 0;
            phases.Add(drift.PhaseUs);
        }
        return hits is 0 ? null : (new Evidence(tested, hits, phases.Count, chance), phases[0]);
    }

    // Phase of the slow one against the quick one; null when it runs away.
    private static (double Ppm, double PhaseUs, double WidthUs)? Drift(FrameSeries quick, FrameSeries slow, double period, long stepUs)
    {
        var points = new List<(double X, double Y)>();
        var run = LongestShared(quick, slow);
        var last = 0.0;
        foreach (var time in slow.TimesUs[run.Slow.First..run.Slow.End])
        {
            var times = quick.TimesUs[run.Quick.First..run.Quick.End];
            var at = times.BinarySearch(time);
            at = at < 0 ? ~at - 1 : at;
            if (at < 0 || time - times[at] > 2 * period)
                continue;
            // Unwrapped, so that a phase near 0 does not jump by a period.
            var phase = (double)(time - times[at]);
            if (points.Count > 0)
                phase += period * Math.Round((last - phase) / period);
            points.Add((time, phase));
            last = phase;
        }
        if (points.Count < Enough)
            return null;
        var (slope, error, middle, width) = Line(points, stepUs);
        return Math.Abs(slope) > Slack * error ? null
            : ((Math.Abs(slope) + (2 * error)) / PpmToShare, Wrap(middle, period), Math.Max(width, 2 * stepUs));
    }

    private static (Run Quick, Run Slow) LongestShared(FrameSeries quick, FrameSeries slow) =>
        (from q in quick.Runs join s in slow.Runs on q.Part equals s.Part orderby s.Count descending select (q, s)).FirstOrDefault();

    // Least squares, without what lies far off; error: standard error of the slope, at least what one step does.
    private static (double Slope, double Error, double Middle, double Width) Line(List<(double X, double Y)> points, long stepUs)
    {
        var middle = points.Select(p => p.Y).Order().ElementAt(points.Count / 2);
        var spread = Math.Max(stepUs, points.Select(p => Math.Abs(p.Y - middle)).Order().ElementAt(points.Count / 2));
        var near = points.Where(p => Math.Abs(p.Y - middle) <= 5 * spread).ToList();
        var (x, y) = (near.Average(p => p.X), near.Average(p => p.Y));
        var sxx = near.Sum(p => (p.X - x) * (p.X - x));
        if (sxx is 0)
            return (0, double.MaxValue, middle, spread);
        var slope = near.Sum(p => (p.X - x) * (p.Y - y)) / sxx;
        var rest = near.Sum(p => Math.Pow(p.Y - y - (slope * (p.X - x)), 2)) / Math.Max(1, near.Count - 2);
        // A step is spread evenly: its variance is a twelfth of its square.
        return (slope, Math.Sqrt((rest + (stepUs * (double)stepUs / 12)) / sxx), middle, 2 * spread);
    }

    private static double Around(double distance, double period) => Math.Abs(distance - (period * Math.Round(distance / period)));

    private static double Wrap(double phase, double period) => phase - (period * Math.Floor(phase / period));
}
