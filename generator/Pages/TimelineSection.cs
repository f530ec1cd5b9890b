using Locum.Model;
using Locum.Rendering;
using Locum.Reporting;
using Locum.Simulation;

namespace Locum.Pages;

/// <summary>The simulated frames in time, a lane for each; modes, inputs and other nodes above and below.</summary>
internal sealed class TimelineSection : ISection
{
    // About 4 bytes each.
    private const int MostMarks = 60_000;

    private const int MostOthers = 40;

    public string Id => "timeline";

    public string Title => "Frames in time";

    public Html? Build(ReportSubject subject)
    {
        var sent = subject.Result.Frames.Where(f => f.EndUs >= 0).ToList();
        var own = sent.ToLookup(f => f.Sender, StringComparer.Ordinal);
        var others = own[""].GroupBy(f => (f.Bus, f.Id)).OrderBy(g => g.Key.Bus, StringComparer.Ordinal).ThenBy(g => g.Key.Id.ToString(), StringComparer.Ordinal).ToList();
        var end = Math.Max(1, subject.Result.EndUs);
        var slot = TimeMarks.SlotUs([.. own.Where(g => g.Key.Length > 0).Select(Starts), .. others.Take(MostOthers).Select(Starts)], MostMarks);
        TimeLane Lane(string name, string id, string bus, IEnumerable<SentFrame> frames) => TimeLane.Of(name, id, bus, [.. frames], end, slot);
        return TemplateFactory.RenderHtml($"{ReportPage.Folder}timeline.html.scriban", new
        {
            EndUs = end,
            TimeMarks.QuantumUs,
            Slot = slot > 0 ? Words.Time(slot) : "",
            Stimulus = subject.HasStimulus ? subject.Stimulus.Name : "",
            subject.HasStimulus,
            Ticks = Ticks(end).ToList(),
            Inputs = TimeBand.Inputs(subject.Stimulus, end).ToList(),
            Modules = subject.Modules.Select(m => new
            {
                m.Planned.Module.Name,
                Board = m.Plan.Name,
                Bands = TimeBand.Modes(subject, m.Plan, m.Planned, end).ToList(),
                Outputs = TimeBand.Outputs(subject, m.Plan, m.Planned, end).ToList(),
                Lanes = m.Plan.Frames.Where(f => f.Owner == m.Planned).OrderBy(f => f.IndexInModule)
                    .Select(f => Lane(f.Frame.Name, f.Frame.Id.ToString(), m.Plan.Buses[f.Bus].Name, own[f.Sender])).ToList(),
            }).ToList(),
            Others = others.Take(MostOthers).Select(g => Lane("other node", g.Key.Id.ToString(), g.Key.Bus, g)).ToList(),
            OthersLeft = Math.Max(0, others.Count - MostOthers),
            Rows = Summary.Of(subject.Plans, subject.Result).Frames.Select(f => new { f.Sender, Id = f.Id.ToString(), f.Sent, f.Skipped, Least = Ms(f.MinUs), Mean = Ms(f.MeanUs), Most = Ms(f.MaxUs), Jitter = Ms(f.JitterUs) }).ToList(),
            ModeChanges = subject.Result.Modes.Take(200).Select(c => new { At = Seconds(c.AtUs), Module = subject.Plans[c.Board].Modules[c.Module].Module.Name, Mode = subject.Plans[c.Board].Modules[c.Module].Module.Modes[c.Mode].Name }).ToList(),
            Switches = subject.Result.Outputs.Take(200).Select(c => new { At = Seconds(c.AtUs), Output = subject.Plans[c.Board].Outputs[c.Output].Output.Name, Goes = c.On ? "on" : "off" }).ToList(),
            Silences = subject.Result.Silences.Select(s => new { At = Seconds(s.AtUs), Board = subject.Plans[s.Board].Name, Says = SilenceWords.Of(s.Reason) }).ToList(),
        });
    }

    private static IReadOnlyList<long> Starts(IEnumerable<SentFrame> frames) => [.. frames.Select(f => f.StartUs)];

    private static string Ms(double? us) => us is { } value ? $"{value / 1000:0.000}" : "–";

    private static string Seconds(long us) => $"{us / 1e6:0.000} s";

    // At most ten marks at round times; the page's script does the same for parts of the time.
    private static IEnumerable<object> Ticks(long end)
    {
        var step = 1L;
        while (end / step > 10)
            step = (step.ToString()[0] is '2') ? step / 2 * 5 : step * 2;
        for (var time = 0L; time <= end; time += step)
            yield return new { X = TimeBand.Percent(time, end), Label = $"{time / 1e6:0.######} s", Place = time * 100 < 3 * end ? "first" : time * 100 > 97 * end ? "last" : "" };
    }
}

/// <summary>A frame's row.</summary>
/// <param name="WireUs">How long its frames are on the wire, on the mean.</param>
internal sealed record TimeLane(string Name, string Id, string Bus, int Count, long WireUs, string Marks, string Ticks, string Bars)
{
    public static TimeLane Of(string name, string id, string bus, IReadOnlyList<SentFrame> frames, long end, long slot)
    {
        IReadOnlyList<long> starts = [.. frames.Select(f => f.StartUs)];
        var (ticks, bars) = TimeMarks.Paths(starts, end);
        return new TimeLane(name, id, bus, frames.Count, frames.Count is 0 ? 0 : (long)frames.Average(f => f.EndUs - f.StartUs), TimeMarks.Encode(TimeMarks.Thin(starts, slot)), ticks, bars);
    }
}

/// <summary>A stretch of time with a name.</summary>
/// <param name="Kind">Number of its colour, or "on".</param>
internal sealed record TimeBand(long From, long To, string X, string Width, string Name, string Kind)
{
    private const int Colours = 5;

    public static IEnumerable<TimeBand> Modes(ReportSubject subject, Planning.BoardPlan plan, Planning.PlannedModule planned, long end)
    {
        var board = subject.Plans.Select((p, i) => (p, i)).First(p => p.p == plan).i;
        var modes = planned.Module.Modes;
        var (from, mode) = (0L, 0);
        foreach (var change in subject.Result.Modes.Where(c => c.Board == board && c.Module == planned.Index))
        {
            if (change.AtUs > from)
                yield return Of(from, change.AtUs, end, modes[mode]);
            (from, mode) = (change.AtUs, change.Mode);
        }
        if (from < end)
            yield return Of(from, end, end, modes[mode]);
    }

    /// <summary>The times in which inputs are active, by input.</summary>
    public static IEnumerable<object> Inputs(Stimulus stimulus, long end) => stimulus.Inputs.GroupBy(i => i.Input).Select(g => new
    {
        Name = g.Key,
        Bands = Active(g.Select(c => (c.AtUs, c.Active)), end, "active").ToList(),
    });

    /// <summary>The times in which outputs of a module are on, by output.</summary>
    public static IEnumerable<object> Outputs(ReportSubject subject, Planning.BoardPlan plan, Planning.PlannedModule planned, long end)
    {
        var board = subject.Plans.Select((p, i) => (p, i)).First(p => p.p == plan).i;
        return plan.Outputs.Where(o => o.Owner.Index == planned.Index).Select(o => new
        {
            o.Output.Name,
            Bands = Active(subject.Result.Outputs.Where(c => c.Board == board && c.Output == o.Index).Select(c => (c.AtUs, c.On)), end, "on").ToList(),
        });
    }

    public static string Percent(long us, long end) => $"{(double)us / end * 100:0.###}%";

    private static IEnumerable<TimeBand> Active(IEnumerable<(long AtUs, bool On)> changes, long end, string word)
    {
        long? since = null;
        foreach (var (at, on) in changes.Where(c => c.AtUs < end).Append((end, false)))
        {
            if (!on && since is { } from && at > from)
                yield return new TimeBand(from, at, Percent(from, end), Percent(at - from, end), word, "on");
            since = on ? since ?? at : null;
        }
    }

    private static TimeBand Of(long from, long to, long end, Mode mode) =>
        new(from, to, Percent(from, end), Percent(to - from, end), mode.Name, mode.Sleep ? "sleep" : $"{mode.Index % Colours}");
}
