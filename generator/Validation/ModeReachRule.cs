using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>Finds modes, and with them frames and outputs, that no way leads to.</summary>
internal sealed class ModeReachRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        var reached = new HashSet<int>();
        var open = new Stack<int>([0]);
        while (open.TryPop(out var mode))
        {
            if (!reached.Add(mode))
                continue;
            foreach (var exit in module.Modes[mode].Exits)
                open.Push(exit.Then);
            if (module.Modes[mode].Then is { } then)
                open.Push(then);
        }
        foreach (var mode in module.Modes.Where(m => !reached.Contains(m.Index)))
            diagnostics.Add(Codes.DeadMode, mode.Span, $"no way leads from '{module.Modes[0].Name}' to '{mode.Name}'", "add a way to it, or remove the mode");
        foreach (var frame in module.Frames.Where(f => !f.Modes.Any(reached.Contains)))
            diagnostics.Add(Codes.NeverSent, frame.Span, $"'{frame.Name}' has no mode that is ever entered", "name a mode under 'in' that is entered");
        foreach (var output in module.Outputs.Where(o => !o.Modes.Any(reached.Contains)))
            diagnostics.Add(Codes.NeverOn, output.Span, $"'{output.Name}' has no mode that is ever entered", "name a mode under 'in' that is entered");
    }
}
