using Locum.Capture;
using Locum.Inference.Relations;
using Locum.Inference.Timing;

namespace Locum.Inference.Starting;

/// <summary>Finds when a module began to send, be it once or after every sleep.</summary>
public static class StartFinder
{
    private const long ShortestSleepUs = 1_000_000;
    private const long ShortestWaitUs = 50_000;
    private const double MissedPeriods = 3;
    private const double WaitedPeriods = 1.5;

    /// <summary>The starts, in the order of the recording; at least one when there is any frame.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="frames">The module's series and how each is sent.</param>
    public static IReadOnlyList<ModuleStart> Find(Recording recording, IReadOnlyList<(FrameSeries Series, SendingFinding Sending)> frames)
    {
        double period = frames.Where(f => f.Sending.MeanUs > 0).Select(f => f.Sending.MeanUs).DefaultIfEmpty(ShortestSleepUs).Min();
        long sleep = (long)Math.Max(ShortestSleepUs, MissedPeriods * period);
        long wait = (long)Math.Max(ShortestWaitUs, WaitedPeriods * period);
        var found = new List<(int Part, long TimeUs, long SilenceUs)>();
        foreach (var (part, time, order) in frames.SelectMany(Beginnings).OrderBy(b => b.Part).ThenBy(b => b.TimeUs).ThenBy(b => b.Order))
        {
            long before = frames.Max(f => LastBefore.Index(f.Series, part, time, order) is >= 0 and var i ? f.Series.TimesUs[i] : long.MinValue);
            bool first = before is long.MinValue;
            if (first || time - before > sleep)
                found.Add((part, time, time - (first ? recording.Parts[part].StartUs : before)));
        }
        return [.. found.Select((f, i) => new ModuleStart(
            f.Part, f.TimeUs, f.SilenceUs, f.SilenceUs >= wait, i + 1 < found.Count && found[i + 1].Part == f.Part ? found[i + 1].TimeUs : recording.Parts[f.Part].EndUs + 1))];
    }

    /// <summary>The start that says most: seen, then followed by the longest time.</summary>
    public static ModuleStart Best(IReadOnlyList<ModuleStart> starts) =>
        starts.OrderByDescending(s => s.Seen).ThenByDescending(s => s.UntilUs - s.TimeUs).First();

    private static IEnumerable<(int Part, long TimeUs, int Order)> Beginnings((FrameSeries Series, SendingFinding Sending) frame) =>
        frame.Sending.Stretches.Select(s => (s.Part, frame.Series.TimesUs[s.First], frame.Series.Orders[s.First]));
}
