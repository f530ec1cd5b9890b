using Locum.Capture;
using Locum.Model;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Auditing;

/// <summary>One board in one part of a capture, up to where modes are needed.</summary>
internal sealed class PartView
{
    /// <param name="buses">The capture's bus for each bus of the plan; null where it has none.</param>
    public PartView(Recording recording, int part, BoardPlan plan, IReadOnlyList<int?> buses, Tolerance tolerance)
    {
        Recording = recording;
        Plan = plan;
        BusNumbers = buses;
        Part = recording.Parts[part];
        PartNumber = part;
        Tolerance = tolerance;
        Own = OwnIdentifiers.Of(plan, recording, buses);
        Buses = [.. plan.Buses.Select(b => buses[b.Index] is { } number ? BusTime.Of(recording, part, number, b, tolerance.StepUs, Own) : null)];
        Frames = [.. plan.Frames.Select(f => new FrameTrack(f, buses[f.Bus] is { } number ? recording.Find(number, f.Frame.Id) : null, Buses[f.Bus], part, tolerance))];
    }

    public Recording Recording { get; }

    public BoardPlan Plan { get; }

    public IReadOnlyList<int?> BusNumbers { get; }

    public RecordingPart Part { get; }

    public int PartNumber { get; }

    public Tolerance Tolerance { get; }

    /// <summary>Buses of the capture with identifiers of the board.</summary>
    public IReadOnlySet<(int Bus, CanId Id)> Own { get; }

    public IReadOnlyList<BusTime?> Buses { get; }

    /// <summary>By the board's rows.</summary>
    public IReadOnlyList<FrameTrack> Frames { get; }

    /// <summary>By the board's modules; set when the senders are known.</summary>
    public IReadOnlyList<ModuleTrack> Modules { get; private set; } = [];

    /// <summary>Follows the modules' modes.</summary>
    /// <param name="ignored">Frames that another node sends as well.</param>
    public void Follow(IReadOnlySet<FrameTrack> ignored) =>
        Modules = [.. Plan.Modules.Select(m => new ModuleTrack(m,
            [.. m.Module.Frames.Select((_, i) => Frames.FirstOrDefault(f => f.Planned.Owner == m && f.Planned.IndexInModule == i))],
            [.. m.Module.Receives.Select((r, i) => Hear(m, r, i, ignored))], Part, ignored, Tolerance))];

    /// <summary>Where a frame must have started to be in the capture for sure: another one may be on the bus when it ends.</summary>
    public long EndUs(FrameTrack track) => Part.EndUs - (track.Bus?.LongestUs ?? 0);

    /// <summary>True if a guard may have kept the board silent: none of its frames started in between.</summary>
    public bool MayBeGuarded(long from, long until) =>
        (Plan.Guards.EnableInput is not null || Plan.Guards.RunAtMostUs is not null || Plan.Guards.BusOff is not null)
        && Frames.All(f => f.FirstFrom(from + 1) is var i && (i == f.Seen.Count || f.Seen[i].StartUs >= until));

    /// <summary>What a node of J1939 sent by itself: claims and answers, in order.</summary>
    public IReadOnlyList<SentAnswer> SentBy(Node node, PlannedFrame row)
    {
        var name = node.NameBytes();
        var sent = new List<SentAnswer>();
        if (BusNumbers[row.Bus] is not { } bus || Buses[row.Bus] is not { } time)
            return sent;
        var others = row.Owner.Module.Frames.Where(f => !f.IsNode && row.Owner.Buses[f.Bus] == row.Bus).Select(f => f.Id).ToHashSet();
        foreach (var series in Recording.Series.Where(s => s.Bus == bus && (s.Id == OwnIdentifiers.Lost || (OwnIdentifiers.IsOf(node, s.Id) && !others.Contains(s.Id)))))
            foreach (var run in series.Runs.Where(r => r.Part == PartNumber))
                for (var i = run.First; i < run.End; i++)
                    if (ParameterGroup.Of(series.Id) is not ParameterGroup.AddressClaimed ? OwnIdentifiers.Sends(series.Id, series.Data(i)) : OwnIdentifiers.IsClaim(series.Id, series.Data(i), row, name))
                        sent.Add(new SentAnswer(series.Orders[i], time.Start(series.Orders[i]).StartUs, series.TimesUs[i], series.Id, series.Data(i).ToArray()));
        return [.. sent.OrderBy(s => s.Order)];
    }

    private Hearing Hear(PlannedModule module, ReceivedFrame row, int index, IReadOnlySet<FrameTrack> ignored)
    {
        var received = new List<(long TimeUs, FrameSeries Series, int Index, int Order)>();
        var claimed = module.Module.Nodes.FirstOrDefault(n => n.Claim == index);
        var own = Plan.Frames.FirstOrDefault(f => f.Owner == module && f.IndexInModule == claimed?.Frame);
        // It may listen to an identifier of its own board that another node sends as well.
        var unclear = ignored.Any(t => t.Planned.Bus == module.Buses[row.Bus] && row.Matches(t.Frame.Id, t.Frame.Length));
        var name = claimed?.NameBytes() ?? [];
        if (BusNumbers[module.Buses[row.Bus]] is { } bus)
            foreach (var series in Recording.Series.Where(s => s.Bus == bus && (claimed is not null || !Own.Contains((bus, s.Id)))))
                foreach (var run in series.Runs.Where(r => r.Part == PartNumber))
                    for (var i = run.First; i < run.End; i++)
                        if (row.Matches(series.Id, series.Lengths[i]) && (own is null || !OwnIdentifiers.IsClaim(series.Id, series.Data(i), own, name)))
                            received.Add((series.TimesUs[i], series, i, series.Orders[i]));
        return new Hearing(row, [.. received.OrderBy(r => r.Order).Select(r => (r.TimeUs, r.Series, r.Index))], Part.StartUs, unclear, Tolerance);
    }
}
