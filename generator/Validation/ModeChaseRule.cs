using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>Looks, for every combination of input levels, for modes that change into each other without time passing.</summary>
internal sealed class ModeChaseRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        var used = module.Modes.SelectMany(m => m.Exits).SelectMany(e => e.When).Select(c => c.Input).Distinct().ToList();
        var reported = new HashSet<int>();
        for (uint levels = 0; levels < 1u << used.Count; levels++)
        {
            foreach (var start in module.Modes)
            {
                if (Cycle(module, start.Index, used, levels) is not { } cycle || !reported.Add(cycle.Min()))
                    continue;
                var names = string.Join("' → '", cycle.Append(cycle[0]).Select(m => module.Modes[m].Name));
                diagnostics.Add(Codes.LoopedMode, module.Modes[cycle[0]].Span, $"with {Describe(module, used, levels)} the modes chase each other: '{names}'", "make the conditions exclude each other");
            }
        }
    }

    private static List<int>? Cycle(Module module, int mode, List<int> used, uint levels)
    {
        var path = new List<int>();
        while (!path.Contains(mode))
        {
            path.Add(mode);
            var exit = module.Modes[mode].Exits.FirstOrDefault(e => e.When.All(c => (levels >> used.IndexOf(c.Input) & 1) == (c.Active ? 1u : 0u)));
            if (exit is null)
                return null;
            mode = exit.Then;
        }
        return path[path.IndexOf(mode)..];
    }

    private static string Describe(Module module, List<int> used, uint levels) => string.Join(", ",
        used.Select((input, i) => $"{module.Inputs[input].Name} {((levels >> i & 1) is 1 ? "active" : "inactive")}"));
}
