using Locum.Model;

namespace Locum.Auditing;

/// <summary>A change of mode that the traffic in the capture certainly causes.</summary>
/// <param name="AtUs">When what causes it was received or became lost.</param>
/// <param name="From">The mode before.</param>
/// <param name="Exit">The way out of it.</param>
internal sealed record Prediction(long AtUs, int From, ModeExit Exit)
{
    /// <summary>All changes of a module that follow from sights of it and from what it received.</summary>
    public static List<Prediction> Of(ModuleTrack module, Tolerance tolerance)
    {
        var found = new List<Prediction>();
        if (!module.Paths.IsUsable)
            return found;
        var modes = module.Modes;
        for (var i = 0; i < modes.Sights.Count; i++)
        {
            if (modes.Only(i) is not { } mode || module.Module.Modes[mode].Exits.All(e => e.When.Any(c => c is InputCondition)))
                continue;
            var until = i + 1 < modes.Sights.Count ? modes.Sights[i + 1].UntilUs : module.Part.EndUs;
            if (Next(module, i, mode, until, tolerance) is { } next)
                found.Add(next);
        }
        return found;
    }

    private static Prediction? Next(ModuleTrack module, int sight, int mode, long until, Tolerance tolerance)
    {
        var from = module.Modes.Sights[sight].UntilUs;
        var exits = module.Module.Modes[mode].Exits;
        var hearings = exits.SelectMany(e => e.When).Select(module.Modes.HearingOf).OfType<Hearing>().Distinct().ToList();
        var moments = new SortedSet<long>();
        foreach (var hearing in hearings)
            for (var k = Math.Max(0, hearing.FirstAfter(from) - 1); k < hearing.Count && hearing.TimeUs(k) <= until; k++)
            {
                moments.Add(hearing.TimeUs(k));
                if (hearing.Row.TimeoutUs is { } timeout)
                    moments.Add(hearing.TimeUs(k) + timeout + tolerance.EarlyUs(timeout) + 1);
            }
        foreach (var time in moments.Where(t => t > from && t <= until))
        {
            // It must still be in the mode right before.
            var leave = module.Modes.ToLeave(sight, 1UL << mode, time - 1);
            if (leave is not ModePaths.Never && leave - tolerance.EarlyUs(leave) <= time - module.Modes.Sights[sight].FromUs)
                return null;
            var (start, end) = (time + tolerance.StampUs, time + tolerance.StampUs + Tolerance.ReactionUs);
            var first = exits.FirstOrDefault(e => e.When.All(c => module.Modes.HearingOf(c)?.MayHold(c, time, end) ?? true));
            if (first is not null)
                return first.When.All(c => module.Modes.HearingOf(c)?.Holds(c, start, end) ?? false) ? new Prediction(time, mode, first) : null;
        }
        return null;
    }
}
