using Locum.Capture;
using Locum.Planning;
using Locum.Reporting;
using Locum.Wire;

namespace Locum.Auditing;

/// <summary>Holds a capture of boards in their vehicle against their descriptions.</summary>
public static class Audit
{
    /// <param name="plans">The boards; frames of one are traffic to the others.</param>
    /// <param name="recording">The capture; not empty.</param>
    /// <param name="original">A capture of the real module; null for none.</param>
    public static AuditResult Of(IReadOnlyList<BoardPlan> plans, Recording recording, Recording? original)
    {
        var sink = new Sink();
        var buses = new List<AuditedBus>();
        var judged = 0L;
        var worst = new Tolerance(1, 0, 0, 0);
        var ranked = new List<Finding>();
        foreach (var plan in plans)
        {
            var pairs = Match(plan, recording);
            buses.AddRange(plan.Buses.Select((b, i) => new AuditedBus(b.Name, pairs[i].Bus is { } number ? recording.Buses[number] : null, pairs[i].How)).Where(b => !buses.Contains(b)));
            var tolerance = Measure(plan, recording, pairs);
            worst = tolerance.StampUs > worst.StampUs ? tolerance : worst;
            var views = Enumerable.Range(0, recording.Parts.Count).Select(p => new PartView(recording, p, plan, [.. pairs.Select(b => b.Bus)], tolerance)).ToList();
            CheckPresence(plan, views, pairs, sink);
            foreach (var view in views)
            {
                var first = sink.Findings.Count;
                var twice = CheckPart(view, sink);
                if (original is not null && view == views.MaxBy(v => v.Part.Frames))
                    new OriginalCheck(original, [.. Match(plan, original).Select(b => b.Bus)], StampStep.Of(original), sink).Check(view, twice);
                ranked.AddRange(sink.Findings.Skip(first).Select(f => TypicalReceiver.Judge(f, view.Frames.FirstOrDefault(t => t.Frame.Name == f.Frame && t.Planned.Owner.Module.Name == f.Module)) with { Part = view.PartNumber }));
                judged += view.Frames.Sum(f => (long)f.Seen.Count);
            }
            if (tolerance.LostShare > OtherNodes.Noticeable)
                sink.Skip(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{tolerance.LostShare * 100:0.##} % of the other nodes' cyclic frames are missing as well: the logger may have lost frames"));
            ranked.AddRange(sink.Findings.Where(f => f.Kind is FindingKind.NeverSent && f.Frame is null && f.ComplainsUs is null && !ranked.Contains(f)).Select(f => TypicalReceiver.JudgeAbsence(f, plan)));
        }
        return new AuditResult
        {
            Findings = [.. ranked.OrderBy(f => f.ComplainsUs ?? long.MaxValue).ThenBy(f => f.Kind).ThenByDescending(f => f.Confidence).ThenBy(f => f.FirstUs)],
            NotJudged = [.. sink.NotJudged],
            Parts = recording.Parts,
            Buses = buses,
            Tolerance = worst,
            Judged = judged,
        };
    }

    private static HashSet<FrameTrack> CheckPart(PartView view, Sink sink)
    {
        view.Follow(new HashSet<FrameTrack>());
        var senders = new SenderCheck(view, sink);
        var twice = view.Modules.SelectMany(m => m.Frames.OfType<FrameTrack>().Where(t => t.Bus is not null && senders.Check(m, t))).ToHashSet();
        if (twice.Count > 0)
            view.Follow(twice);
        foreach (var module in view.Modules.Where(m => m.Frames.Any(f => f?.Seen.Count > 0)))
        {
            var tracks = module.Frames.OfType<FrameTrack>().Where(t => t.Bus is not null && !twice.Contains(t)).ToList();
            var channels = new ChannelCheck(view, module);
            var timing = new TimingCheck(view, sink);
            var first = sink.Findings.Count;
            foreach (var track in tracks.Where(t => t.Frame.IsCyclic))
                timing.Check(module, track);
            SilenceJoin.Join(module, sink, first);
            var payloads = new PayloadCheck(sink);
            foreach (var track in tracks)
            {
                payloads.Check(module, track);
                TurnCheck.Check(module, track, sink);
            }
            new AnswerCheck(view, sink).Check(module, twice);
            new CounterCheck(sink).Check(module, twice);
            new ModeCheck(view, sink).Check(module);
            channels.Tell(sink);
        }
        new BusErrorCheck(view, sink).Check();
        return twice;
    }

    private static void CheckPresence(BoardPlan plan, List<PartView> views, IReadOnlyList<BusPair> pairs, Sink sink)
    {
        foreach (var bus in plan.Buses.Where(b => pairs[b.Index].Bus is null))
            sink.Skip($"bus {bus.Name}: the capture has no such bus");
        foreach (var module in plan.Modules)
        {
            var frames = plan.Frames.Where(f => f.Owner == module && pairs[f.Bus].Bus is not null).ToList();
            if (frames.Count > 0 && views.TrueForAll(v => v.Frames.Where(f => f.Planned.Owner == module).All(f => f.Seen.Count is 0)))
                sink.Add(FindingKind.NeverSent, module.Module, $"none of its {Words.Count(frames.Count, "frame")} is in the capture", views[0].Part.StartUs, views[^1].Part.EndUs, frames.Count, module.Module.Span);
        }
    }

    private static IReadOnlyList<BusPair> Match(BoardPlan plan, Recording recording) =>
        BusMatching.Match([.. plan.Buses.Select(b => new BusIds(b.Name, Ids(plan, b)))], BusMatching.Of(recording));

    private static HashSet<CanId> Ids(BoardPlan plan, PlannedBus bus) =>
    [
        .. plan.Frames.Where(f => f.Bus == bus.Index).Select(f => f.Frame.Id),
        .. plan.Modules.SelectMany(m => m.Module.Receives.Where(r => m.Buses[r.Bus] == bus.Index && r.Mask is CanId.MaxStandard or CanId.MaxExtended).Select(r => r.Id)),
    ];

    private static Tolerance Measure(BoardPlan plan, Recording recording, IReadOnlyList<BusPair> pairs)
    {
        var step = StampStep.Of(recording);
        var own = OwnIdentifiers.Of(plan, recording, [.. pairs.Select(b => b.Bus)]);
        var error = 0L;
        foreach (var bus in plan.Buses)
            if (pairs[bus.Index].Bus is { } number)
                for (var part = 0; part < recording.Parts.Count; part++)
                    error = Math.Max(error, BusTime.Of(recording, part, number, bus, step, own).StampErrorUs);
        var others = OtherNodes.Of(recording, own);
        return new Tolerance(step, error, others.SteadiestUs, others.LostShare);
    }
}
