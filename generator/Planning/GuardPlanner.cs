using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Planning;

/// <summary>The guards of a board on its kind: defaults, and what the kind cannot do.</summary>
internal static class GuardPlanner
{
    private const string Foreign = "foreign sender";
    private const string Enable = "enable";
    private const string Reset = "reset";

    /// <summary>The input that enables a board, as a module would declare it; null when there is none.</summary>
    public static Input? Input(BoardUse use) => use.Guards.Enable is not { } enable ? null
        : use.Modules.SelectMany(m => m.Inputs).FirstOrDefault(i => i.Name == enable.Input) is not { } known ? new Input(enable.Input, InputKind.Line, enable.ActiveHigh ?? true, enable.DebounceUs ?? 0, enable.Span)
        : known with { ActiveHigh = enable.ActiveHigh ?? known.ActiveHigh, DebounceUs = enable.DebounceUs ?? known.DebounceUs, Span = enable.Span };

    public static PlannedGuards Plan(BoardUse use, BoardKind kind, IReadOnlyList<PlannedInput> inputs, DiagnosticBag diagnostics)
    {
        var guards = use.Guards;
        foreach (var (key, span) in guards.Places.Where(p => Asks(guards, p.Key) && !kind.Guards.Contains(p.Key)))
            diagnostics.Add(Codes.NoGuard, span, $"{kind.Name} does not have the guard '{key}'", key is Foreign ? "write 'foreign sender: ignore'" : "leave it out, or use another board");
        var foreign = (guards.ForeignSender ?? true) && kind.Guards.Contains(Foreign);
        var forGood = foreign || guards.BusOff is not null || guards.RunAtMostUs is not null;
        var enable = guards.Enable is null ? null : inputs.FirstOrDefault(i => i.Name == guards.Enable.Input);
        return new PlannedGuards(foreign, guards.BusOff, enable?.Index, guards.RunAtMostUs, (forGood || guards.Resume) && kind.Guards.Contains(Reset), guards.Resume);
    }

    private static bool Asks(Guards guards, string key) => key switch
    {
        Foreign => guards.ForeignSender is true,
        "bus off" => guards.BusOff is not null,
        Enable => guards.Enable is not null,
        "run at most" => guards.RunAtMostUs is not null,
        Reset => guards.Resume,
        _ => false,
    };
}
