using Locum.Inference;
using Locum.Inference.Values;

namespace Locum.Drafting;

/// <summary>Which value an unexplained field gets: that of each stage after the start, otherwise the usual one.</summary>
internal static class SteadyValues
{
    // A value that follows the start counts as the steady one when it holds so long.
    private const long SteadyUs = 1_000_000;

    // What changes more often does not change with stages.
    private const int MostChanges = 8;

    /// <summary>The value in each stage from <paramref name="firstPhase"/> on.</summary>
    public static IReadOnlyList<ulong> Of(ModuleFindings findings, FrameFindings frame, ValueFinding value, int firstPhase)
    {
        var phases = findings.Phases;
        int last = phases.EndsUs.Count;
        if (!findings.Start.Seen || frame.First.Part != findings.Start.Part || value.Changes > MostChanges * findings.Starts.Count)
            return [.. Enumerable.Repeat(value.Usual, last - firstPhase + 1)];
        var counts = Enumerable.Range(0, last + 1).Select(_ => new Dictionary<ulong, int>()).ToList();
        ulong? steady = null;
        long since = 0;
        bool held = false;
        for (int i = frame.FirstFrame; i < frame.Payloads.Count && frame.Payloads.TimeUs(i) is var time && time < findings.Start.UntilUs; i++)
        {
            long after = time - findings.Start.TimeUs;
            int phase = phases.At(after);
            ulong now = value.Place.Read(frame.Payloads.Data(i));
            counts[phase][now] = counts[phase].GetValueOrDefault(now) + 1;
            if (phase != last || held)
                continue;
            if (steady is null)
                (steady, since) = (now, time);
            else if (now != steady)
                held = true;
            else if (time - since >= SteadyUs)
                return Values(now);
        }
        return Values(value.Usual);

        IReadOnlyList<ulong> Values(ulong usual) =>
            [.. Enumerable.Range(firstPhase, last - firstPhase).Select(p => counts[p].Count is 0 ? usual : counts[p].MaxBy(c => c.Value).Key), usual];
    }
}
