using Locum.Inference;
using Locum.Model;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Modes against their description: sights that cannot follow each other, modes that last too long or too short, conditions without effect.</summary>
internal sealed class ModeCheck(PartView view, Sink sink)
{
    public void Check(ModuleTrack module)
    {
        if (module.Module.Modes.Count is 1)
            return;
        if (!module.Paths.IsUsable)
        {
            sink.Skip($"modes of {module.Module.Name}: there are too many ways between them");
            return;
        }
        CheckOrder(module);
        foreach (var mode in module.Module.Modes)
        {
            var stays = module.Stays(1UL << mode.Index);
            CheckLong(module, mode);
            CheckWays(module, mode, stays);
        }
        CheckShort(module);
    }

    private void CheckOrder(ModuleTrack module)
    {
        var modes = module.Modes;
        if (modes.Contradictions.Count is 0)
            return;
        var first = modes.Contradictions.Min;
        var (before, now) = (modes.Sights[first - 1], modes.Sights[first]);
        var mode = module.Module.Modes.First(m => (now.Modes >> m.Index & 1) is not 0);
        sink.Add(FindingKind.Mode, module.Module,
            $"{now.Frame.Frame.Name} speaks of {Names(module, now.Modes)} {Words.Time(Math.Max(0, now.UntilUs - before.UntilUs))} after {before.Frame.Frame.Name} spoke of {Names(module, before.Modes)}; the modes do not allow that",
            now.UntilUs, modes.Sights[modes.Contradictions.Max].UntilUs, modes.Contradictions.Count, mode.Span);
    }

    private void CheckLong(ModuleTrack module, Mode mode)
    {
        if (mode.ForUs is not { } time)
            return;
        foreach (var (likely, confidence) in new[] { (false, Confidence.Certain), (true, Confidence.Likely) })
        {
            var over = module.Modes.Stays(1UL << mode.Index, likely).Where(s => s.SeenUs - s.FromUs > time + view.Tolerance.EarlyUs(time) + Tolerance.ReactionUs).ToList();
            if (over.Count is 0)
                continue;
            var worst = over.Max(s => s.SeenUs - s.FromUs);
            sink.Add(FindingKind.Mode, module.Module, $"stays in {mode.Name} for {Words.Time(worst)} at least, described is {Words.Time(time)}", over[0].FromUs + time, over[^1].SeenUs, over.Count, mode.Span, confidence);
            return;
        }
    }

    // A mode that only its own time ends, entered and left between known times that lie too near each other.
    private void CheckShort(ModuleTrack module)
    {
        var modes = module.Modes;
        var entered = -1;
        for (var i = 1; i < modes.Sights.Count; i++)
        {
            if (modes.Contradictions.Contains(i))
                entered = -1;
            if (modes.Only(i) is not { } mode || modes.Only(i - 1) == mode)
                continue;
            if (entered > 0 && modes.Only(i - 1) is { } old && module.Module.Modes[old] is { ForUs: { } time, Exits.Count: 0 } described
                && module.Stayed(1UL << old, modes.Sights[entered].UntilUs, modes.Sights[i - 1].UntilUs)
                && modes.Sights[i].UntilUs - modes.Sights[entered - 1].FromUs is var most && most < time - view.Tolerance.EarlyUs(time))
                sink.Add(FindingKind.Mode, module.Module, $"leaves {described.Name} after {Words.Time(most)} at most, described is {Words.Time(time)}", modes.Sights[i].UntilUs, modes.Sights[i].UntilUs, 1, described.Span);
            entered = (modes.Modes[i - 1] >> mode & 1) is 0 ? i : -1;
        }
    }

    // A way whose conditions are all in the capture and hold for longer than a reaction ends the mode.
    private void CheckWays(ModuleTrack module, Mode mode, IReadOnlyList<Stay> stays)
    {
        foreach (var exit in mode.Exits.Where(e => e.When.All(c => c is not InputCondition)))
        {
            var hearings = exit.When.Select(c => (Condition: c, Hearing: module.Modes.HearingOf(c)!)).ToList();
            foreach (var stay in stays.Where(s => s.SeenUs - s.FirstUs > 2 * Tolerance.ReactionUs))
                if (Moments(hearings, stay).FirstOrDefault(t => Ignored(hearings, t, stay), -1) is >= 0 and var time)
                {
                    sink.Add(FindingKind.Mode, module.Module, $"stays in {mode.Name} although what it heard leads to {module.Module.Modes[exit.Then].Name}", time, stay.SeenUs, 1, exit.Span);
                    break;
                }
        }
    }

    // When something was received or became lost within a stay.
    private IEnumerable<long> Moments(List<(Condition Condition, Hearing Hearing)> hearings, Stay stay)
    {
        var moments = new SortedSet<long> { Math.Max(stay.FirstUs, view.Part.StartUs) };
        foreach (var (_, hearing) in hearings)
            for (var i = Math.Max(0, hearing.FirstAfter(stay.FirstUs) - 1); i < hearing.Count && hearing.TimeUs(i) < stay.SeenUs; i++)
            {
                moments.Add(Math.Max(stay.FirstUs, hearing.TimeUs(i)));
                if (hearing.Row.TimeoutUs is { } timeout)
                    moments.Add(Math.Max(stay.FirstUs, hearing.TimeUs(i) + timeout + view.Tolerance.EarlyUs(timeout) + 1));
            }
        return moments;
    }

    private bool Ignored(List<(Condition Condition, Hearing Hearing)> hearings, long from, Stay stay)
    {
        var until = from + Tolerance.ReactionUs + view.Tolerance.InstantUs;
        return until < stay.SeenUs && hearings.TrueForAll(h => h.Hearing.Holds(h.Condition, from + view.Tolerance.StampUs, until));
    }

    private static string Names(ModuleTrack module, ulong modes) =>
        string.Join(" or ", module.Module.Modes.Where(m => (modes >> m.Index & 1) is not 0).Select(m => m.Name));
}
