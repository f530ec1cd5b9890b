using Locum.Capture;
using Locum.Model;
using Locum.Planning;

namespace Locum.Auditing;

/// <summary>A module in one part of a capture: its frames with a verdict on each payload, what it heard, and its modes.</summary>
internal sealed class ModuleTrack
{
    private readonly Dictionary<ulong, List<Stay>> _stays = [];

    /// <param name="frames">In the module's order; null for frames that the plan left out.</param>
    /// <param name="part">The part's begin and end.</param>
    /// <param name="ignored">Frames that say nothing about modes, because another node sends them as well.</param>
    public ModuleTrack(PlannedModule planned, IReadOnlyList<FrameTrack?> frames, IReadOnlyList<Hearing> hearings, RecordingPart part, IReadOnlySet<FrameTrack> ignored, Tolerance tolerance)
    {
        Planned = planned;
        Frames = frames;
        Hearings = hearings;
        Part = part;
        Paths = new ModePaths(planned.Module);
        var sights = new List<ModeSight>();
        foreach (var track in frames.OfType<FrameTrack>())
        {
            var judge = new FrameJudge(track, planned.Module);
            var verdicts = new Verdict[track.Seen.Count];
            for (var i = 0; i < verdicts.Length; i++)
            {
                var seen = track.Seen[i];
                verdicts[i] = judge.Judge(seen, hearings);
                var since = track.IsPlain ? seen.UntilUs - track.Frame.OffsetUs + tolerance.EarlyUs(track.Frame.OffsetUs) : seen.UntilUs;
                if (!ignored.Contains(track))
                    sights.Add(new ModeSight(seen.FromUs, seen.UntilUs, verdicts[i].Modes, Math.Min(since, seen.UntilUs), track, i));
            }
            Judges[track] = judge;
            Verdicts[track] = verdicts;
        }
        Modes = new ModeTrack(planned.Module, Paths, hearings, sights, part.EndUs, tolerance);
        Predictions = Prediction.Of(this, tolerance);
    }

    public PlannedModule Planned { get; }

    public Module Module => Planned.Module;

    public IReadOnlyList<FrameTrack?> Frames { get; }

    public IReadOnlyList<Hearing> Hearings { get; }

    public RecordingPart Part { get; }

    public ModePaths Paths { get; }

    public ModeTrack Modes { get; }

    /// <summary>Changes of mode that the traffic in the capture certainly causes.</summary>
    public IReadOnlyList<Prediction> Predictions { get; }

    public Dictionary<FrameTrack, FrameJudge> Judges { get; } = [];

    public Dictionary<FrameTrack, Verdict[]> Verdicts { get; } = [];

    /// <summary>Stays in a set of modes, in order of time.</summary>
    public IReadOnlyList<Stay> Stays(ulong modes)
    {
        if (!_stays.TryGetValue(modes, out var stays))
            _stays[modes] = stays = Modes.Stays(modes);
        return stays;
    }

    /// <summary>True if the module certainly stayed in a set of modes for a while.</summary>
    public bool Stayed(ulong modes, long from, long until)
    {
        var stays = Stays(modes);
        var (low, high) = (0, stays.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (stays[middle].FromUs <= from)
                low = middle + 1;
            else
                high = middle;
        }
        // Stays may touch, so the one before the last can reach further.
        for (var i = low - 1; i >= Math.Max(0, low - 2); i--)
            if (stays[i].Holds(from, until))
                return true;
        return false;
    }
}
