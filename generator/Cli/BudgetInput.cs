using Locum.Budgeting;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;

namespace Locum.Cli;

/// <summary>What budgets are made from: composed frames of the boards, captures of the rest of the bus.</summary>
internal static class BudgetInput
{
    private const long AwakeUs = 10_000_000;

    /// <summary>Lengths of the frames that the boards compose, each board by itself: only what it composes matters here.</summary>
    public static ComposedTimes Composed(Session session) =>
        ComposedTimes.Of(session.Plans, session.Plans.Select(p => Simulator.Run([p], session.StimulusFor(p) is { } s && s != Stimulus.Quiet ? s : Awake([p]))));

    /// <summary>For boards without a stimulus: all inputs are active, which wakes most modules.</summary>
    public static Stimulus Awake(IEnumerable<BoardPlan> plans) =>
        new() { EndUs = AwakeUs, Inputs = [.. plans.SelectMany(p => p.Inputs).Select(i => i.Name).Distinct().Select(i => new InputChange(0, i, true))] };

    /// <summary>True, after telling why, when a capture says nothing about the boards' buses.</summary>
    public static bool Refuse(Terminal terminal, IReadOnlyList<BoardPlan> plans, IReadOnlyList<LoadedCapture> captures)
    {
        if (captures.FirstOrDefault(c => c.Recording.FrameCount is 0 || !c.Summary.HasTime) is { } useless)
        {
            terminal.Error.WriteLine($"locum: '{Printable.Clean(useless.Path)}' has {(useless.Recording.FrameCount is 0 ? "no frames" : "no times, without which no load is known")}");
            terminal.Error.WriteLine("  mend: record it again, with times; 'locum read' tells what it holds");
            return true;
        }
        if (Budget.Strange(plans, captures.Select(c => c.Recording)) is [var strange, ..])
        {
            terminal.Error.WriteLine($"locum: '{Printable.Clean(captures.First(c => c.Recording == strange).Path)}' has none of the boards' buses, its own are {string.Join(", ", strange.Buses.Select(Printable.Short))}");
            terminal.Error.WriteLine($"  mend: name its bus as the descriptions do ({string.Join(", ", plans.SelectMany(p => p.Buses).Select(b => b.Name).Distinct())}), with 'bus' in a layout or when recording");
            return true;
        }
        return false;
    }
}
