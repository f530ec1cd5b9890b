using Locum.Model;
using Locum.Reporting;
using Locum.Simulation;

namespace Locum.Auditing;

/// <summary>Frames sent by events: what was received, frames of the module, and changes of mode that the traffic causes must be followed by them in time.</summary>
internal sealed class AnswerCheck(PartView view, Sink sink)
{
    // Causes are sorted by their latest time; one that may be earlier is not further behind than this, µs.
    private const long LongestWait = 1_000_000;

    public void Check(ModuleTrack module, IReadOnlySet<FrameTrack> ignored)
    {
        var predictions = module.Predictions;
        foreach (var track in module.Frames.OfType<FrameTrack>().Where(t => t.Bus is not null && t.Frame.IsDescribed && !ignored.Contains(t)))
        {
            var causes = new List<Cause>();
            foreach (var trigger in track.Frame.Events?.Triggers ?? [])
                causes.AddRange(Causes(module, track, trigger, predictions));
            causes.AddRange(Changes(module, track, predictions));
            causes.AddRange(Starts(track, predictions));
            var triggers = track.Frame.Events?.Triggers ?? [];
            if (triggers.Any(t => t.Kind is TriggerKind.InputActive or TriggerKind.InputInactive))
            {
                sink.Skip($"events of {track.Frame.Name}: inputs are not in the capture");
                continue;
            }
            if (triggers.Any(t => t.Kind is TriggerKind.Frame && (module.Frames[t.Index] is not { } other || ignored.Contains(other))))
            {
                sink.Skip($"events of {track.Frame.Name}: it follows a frame that is not known to be the module's");
                continue;
            }
            Judge(module, track, [.. causes.OrderBy(c => c.AtUs).ThenBy(c => c.Rank)]);
        }
        var silent = module.Module.Frames.Where(f => f.Events is { } e && e.Triggers.Any(t => t.Kind is TriggerKind.Start)).Select(f => f.Name).ToList();
        if (silent.Count > 0)
            sink.Skip($"frames sent once at a start: {string.Join(", ", silent)}");
    }

    private static IEnumerable<Cause> Causes(ModuleTrack module, FrameTrack track, Trigger trigger, IReadOnlyList<Prediction> predictions)
    {
        switch (trigger.Kind)
        {
            case TriggerKind.Received:
                var hearing = module.Hearings[trigger.Index];
                for (var i = 0; i < hearing.Count; i++)
                    yield return new Cause(hearing.TimeUs(i), hearing.TimeUs(i), trigger.AfterUs, $"{hearing.Row.Name} was received", Cause.Received + trigger.Index);
                break;
            case TriggerKind.Frame when module.Frames[trigger.Index] is { } other:
                foreach (var seen in other.Seen)
                    yield return new Cause(seen.ReleasedUs, seen.StartUs, trigger.AfterUs, $"{other.Frame.Name} was sent", Cause.Sent);
                break;
            case TriggerKind.Mode:
                foreach (var prediction in predictions.Where(p => p.Exit.Then == trigger.Index))
                    yield return new Cause(prediction.AtUs, prediction.AtUs, trigger.AfterUs, $"{module.Module.Modes[trigger.Index].Name} began", Cause.Began);
                break;
            default:
                break;
        }
    }

    private static IEnumerable<Cause> Changes(ModuleTrack module, FrameTrack track, IReadOnlyList<Prediction> predictions)
    {
        foreach (var field in (track.Frame.Events?.Changes ?? []).Select(c => track.Frame.Fields[c]))
        {
            if (field.Source is ModeValue value)
                foreach (var p in predictions.Where(p => value.Raw.TryGetValue(p.From, out var old) && value.Raw.TryGetValue(p.Exit.Then, out var now) && old != now))
                    yield return new Cause(p.AtUs, p.AtUs, 0, $"{field.Name} changed", Cause.Changed);
            if (field.Source is not FollowValue follow)
                continue;
            var hearing = module.Hearings[follow.Received];
            for (var i = 1; i < hearing.Count; i++)
                if (hearing.Over(hearing.TimeUs(i) - 1, hearing.TimeUs(i) - 1) is { MayBeLost: false, MayBeUnknown: false }
                    && Composer.Followed(follow, hearing.Read(i, follow.Field)) != Composer.Followed(follow, hearing.Read(i - 1, follow.Field)))
                    yield return new Cause(hearing.TimeUs(i), hearing.TimeUs(i), 0, $"{field.Name} changed", Cause.Changed);
        }
    }

    private static IEnumerable<Cause> Starts(FrameTrack track, IReadOnlyList<Prediction> predictions) => !track.Frame.IsCyclic ? []
        : predictions.Where(p => !track.Frame.Modes.Contains(p.From) && track.Frame.Modes.Contains(p.Exit.Then))
            .Select(p => new Cause(p.AtUs, p.AtUs, track.Frame.OffsetUs, $"{track.Planned.Owner.Module.Modes[p.Exit.Then].Name} began", Cause.Started));

    private void Judge(ModuleTrack module, FrameTrack track, List<Cause> causes)
    {
        var moving = track.Frame.Events is { } events && (events.Triggers.Any(t => t.Kind is TriggerKind.Mode) || events.Changes.Any(c => track.Frame.Fields[c].Source is ModeValue));
        var (late, missing, tested) = (new List<Miss>(), new List<Miss>(), 0);
        for (var i = 0; i < causes.Count; i++)
        {
            var cause = causes[i];
            var before = track.FirstFrom(cause.FromUs - view.Tolerance.StampUs) - 1;
            var gap = before >= 0 && cause.IsEvent ? track.Seen[before].StartUs + track.Frame.Events!.GapUs : long.MinValue;
            var due = Math.Max(cause.AtUs + cause.AfterUs, gap);
            var allowed = Math.Max(view.Tolerance.InstantUs + Tolerance.ReactionUs, (long)(Tolerance.PeriodShare * cause.AfterUs));
            if (due + allowed >= view.EndUs(track) || track.IsHeld(cause.FromUs, due + allowed) || !Sends(module, track, cause, due + allowed))
                continue;
            if (cause.IsEvent && MayBeReplaced(causes, i, due + view.Tolerance.InstantUs))
                continue;
            if (cause.IsEvent && moving && !module.Module.Modes.Any(m => module.Stayed(1UL << m.Index, cause.FromUs - 1, due + allowed)) && !Quiet(module, cause, due))
                continue;
            tested++;
            var next = track.FirstFrom(cause.FromUs - view.Tolerance.StampUs);
            var start = next < track.Seen.Count ? track.Seen[next].StartUs : view.EndUs(track);
            if (track.Bus!.Idle(due, start) <= allowed)
                continue;
            var other = i + 1 < causes.Count ? causes[i + 1].AtUs : view.EndUs(track);
            var comes = start < other && next < track.Seen.Count;
            (comes ? late : missing).Add(new Miss(cause, start - due));
            if (!comes)
                track.Add(new Gap(due, start, 1, next == track.Seen.Count, before < 0));
        }
        Tell(FindingKind.AnswerMissing, missing, m => $"not sent after {m.Cause.What}");
        Tell(FindingKind.AnswerLate, late, m => $"sent {Words.Time(m.LateUs)} late after {m.Cause.What}");

        void Tell(FindingKind kind, List<Miss> misses, Func<Miss, string> words)
        {
            if (misses.Count > 0)
                sink.Add(kind, track, $"{words(misses.MaxBy(m => m.LateUs))}, {misses.Count} of {Words.Count(tested, "time")}", misses[0].Cause.AtUs, misses[^1].Cause.AtUs, misses.Count);
        }
    }

    // A later event takes the place of one that is not yet due.
    private static bool MayBeReplaced(List<Cause> causes, int index, long due)
    {
        var cause = causes[index];
        for (var i = index + 1; i < causes.Count && causes[i].AtUs <= due + LongestWait; i++)
            if (causes[i].IsEvent && causes[i].FromUs <= due)
                return true;
        for (var i = index - 1; i >= 0 && causes[i].AtUs >= cause.FromUs; i--)
            if (causes[i].IsEvent && (causes[i].FromUs, causes[i].AtUs, causes[i].What) != (cause.FromUs, cause.AtUs, cause.What))
                return true;
        return false;
    }

    // The frame sends from the cause until it is due, perhaps in a mode that the cause brought.
    private static bool Sends(ModuleTrack module, FrameTrack track, Cause cause, long until) =>
        module.Stayed(track.Modes, cause.FromUs, until) || Brought(module, cause, until, mode => (track.Modes >> mode & 1) is not 0 ? track.Modes : 0);

    // No change of mode between the cause and the release, if the cause itself brought the mode.
    private static bool Quiet(ModuleTrack module, Cause cause, long due) => Brought(module, cause, due, mode => 1UL << mode);

    // The cause brought a mode, and from it no way leads out of a set before a time.
    private static bool Brought(ModuleTrack module, Cause cause, long until, Func<int, ulong> set)
    {
        foreach (var mode in module.Predictions.Where(p => p.AtUs == cause.AtUs).Select(p => p.Exit.Then))
        {
            var leave = module.Paths.ToLeave(mode, set(mode), module.Module.Modes[mode].ForUs ?? 0, module.Modes.Open(cause.AtUs, until));
            if (leave is ModePaths.Never || leave > until - cause.AtUs)
                return true;
        }
        return false;
    }

    /// <summary>Something that makes the frame due.</summary>
    /// <param name="FromUs">The earliest time of it.</param>
    /// <param name="AtUs">The latest.</param>
    /// <param name="Rank">What comes later in an instant takes the place of what came before.</param>
    private readonly record struct Cause(long FromUs, long AtUs, long AfterUs, string What, int Rank)
    {
        public const int Started = 0;

        // Rows follow each other from here.
        public const int Received = 1;
        public const int Began = 1_000;
        public const int Changed = 1_001;
        public const int Sent = 1_002;

        public bool IsEvent => Rank > Started;
    }

    private readonly record struct Miss(Cause Cause, long LateUs);
}
