using Locum.Model;
using Locum.Wire;

namespace Locum.Planning;

/// <summary>The soonest times after the firmware's start, when every input and every other node is as quick as can be.</summary>
internal static class FirstTime
{
    /// <summary>The end of a module's first frame on an idle bus, µs; null when no frame is sent without an event.</summary>
    public static (long Us, Frame Frame)? OfFrame(Module module)
    {
        var entered = Entered(module);
        return module.Frames
            .Where(f => f.Bus >= 0)
            .Select(f => (Us: f.Modes.Where(m => m < entered.Length && entered[m] < long.MaxValue).Select(m => entered[m]).DefaultIfEmpty(long.MaxValue).Min(), Frame: f))
            .Where(f => f.Us < long.MaxValue && Delay(f.Frame) is not null)
            .Select(f => (f.Us + Delay(f.Frame)!.Value + WireUs(f.Frame, module), f.Frame))
            .OrderBy(f => f.Item1)
            .Select(f => ((long, Frame)?)f)
            .FirstOrDefault();
    }

    /// <summary>An output is on, µs; null when its modes are never entered.</summary>
    public static long? OfOutput(Output output, Module module)
    {
        var entered = Entered(module);
        var mode = output.Modes.Select(m => entered[m]).DefaultIfEmpty(long.MaxValue).Min();
        var settled = output.While.Select(all => all.Select(c => Settled(c, module)).DefaultIfEmpty(0).Max()).DefaultIfEmpty(0).Min();
        return mode is long.MaxValue ? null : Math.Max(mode, settled) + output.AfterUs;
    }

    // From its start to its first release.
    private static long? Delay(Frame frame)
    {
        if (frame.IsNode)
            return 0;
        var starts = frame.Events?.Triggers.Where(t => t.Kind is TriggerKind.Start or TriggerKind.Mode).Select(t => t.AfterUs).ToList() ?? [];
        if (frame.IsCyclic)
            starts.Add(frame.OffsetUs);
        return starts.Count > 0 ? starts.Min() : null;
    }

    private static long WireUs(Frame frame, Module module) =>
        WireLength.Maximum(frame.Format, frame.Id.Extended, frame.Length).TimeUs(module.Buses[frame.Bus].Rate, module.Buses[frame.Bus].DataRate);

    // The soonest entry of each mode: a shortest path over the ways out.
    private static long[] Entered(Module module)
    {
        var entered = Enumerable.Repeat(long.MaxValue, module.Modes.Count).ToArray();
        entered[0] = 0;
        for (var round = 0; round < module.Modes.Count; round++)
            foreach (var mode in module.Modes.Where(m => entered[m.Index] < long.MaxValue))
            {
                foreach (var exit in mode.Exits)
                    entered[exit.Then] = Math.Min(entered[exit.Then], Math.Max(entered[mode.Index], exit.When.Select(c => Settled(c, module)).DefaultIfEmpty(0).Max()));
                if (mode is { ForUs: { } time, Then: { } then })
                    entered[then] = Math.Min(entered[then], entered[mode.Index] + time);
            }
        return entered;
    }

    // An input that is active from power-on on is so when its debounce is over; an inactive one at once.
    private static long Settled(Condition condition, Module module) =>
        condition is InputCondition { Active: true } input ? module.Inputs[input.Input].DebounceUs : 0;
}
