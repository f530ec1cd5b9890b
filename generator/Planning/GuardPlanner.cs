using Locum.Model;

namespace Locum.Planning;

/// <summary>The guards of a board, with their defaults.</summary>
internal static class GuardPlanner
{
    /// <summary>The input that enables a board, as a module would declare it; null when there is none.</summary>
    public static Input? Input(BoardUse use) => use.Guards.Enable is not { } enable ? null
        : use.Modules.SelectMany(m => m.Inputs).FirstOrDefault(i => i.Name == enable.Input) is not { } known ? new Input(enable.Input, InputKind.Line, enable.ActiveHigh ?? true, enable.DebounceUs ?? 0, enable.Span)
        : known with { ActiveHigh = enable.ActiveHigh ?? known.ActiveHigh, DebounceUs = enable.DebounceUs ?? known.DebounceUs, Span = enable.Span };

    public static PlannedGuards Plan(BoardUse use, IReadOnlyList<PlannedInput> inputs)
    {
        var guards = use.Guards;
        var foreign = guards.ForeignSender;
        var brownOuts = use.Modules.Any(m => m.Outputs.Count > 0) ? guards.BrownOuts : null;
        var keeps = foreign || guards.BusOff is not null || guards.RunAtMostUs is not null || guards.Resume || brownOuts is not null;
        var enable = guards.Enable is null ? null : inputs.FirstOrDefault(i => i.Name == guards.Enable.Input);
        return new PlannedGuards(foreign, guards.BusOff, enable?.Index, guards.RunAtMostUs, keeps, guards.Resume) { BrownOuts = brownOuts };
    }
}
