using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>Looks, for every combination of inputs and received values, for modes that change into each other without time passing.</summary>
internal sealed class ModeChaseRule : IModuleRule
{
    private const int MostCombinations = 1 << 18;

    public void Check(Module module, DiagnosticBag diagnostics)
    {
        var space = new ConditionSpace(module);
        var next = new int[module.Modes.Count];
        var reported = new HashSet<int>();
        for (long number = 0; number < Math.Min(space.Combinations, MostCombinations); number++)
        {
            space.Select(number);
            for (var mode = 0; mode < next.Length; mode++)
                next[mode] = Next(module.Modes[mode], space);
            for (var start = 0; start < next.Length; start++)
            {
                if (next[start] < 0 || Cycle(next, start) is not { } cycle || !reported.Add(cycle.Min()))
                    continue;
                var names = string.Join("' → '", cycle.Append(cycle[0]).Select(m => module.Modes[m].Name));
                diagnostics.Add(Codes.LoopedMode, module.Modes[cycle[0]].Span, $"with {space.Describe()} the modes chase each other: '{names}'", "make the conditions exclude each other");
            }
        }
    }

    private static int Next(Mode mode, ConditionSpace space)
    {
        foreach (var exit in mode.Exits)
        {
            var holds = true;
            foreach (var condition in exit.When)
                holds &= space.Holds(condition);
            if (holds)
                return exit.Then;
        }
        return -1;
    }

    private static List<int>? Cycle(int[] next, int start)
    {
        // After as many steps as there are modes the walk has ended or runs in a cycle.
        var mode = start;
        for (var steps = 0; steps < next.Length; steps++)
            if ((mode = next[mode]) < 0)
                return null;
        // Back to where the walk from the start first met the cycle.
        var cycle = new List<int>();
        for (var member = mode; !cycle.Contains(member); member = next[member])
            cycle.Add(member);
        var first = start;
        while (!cycle.Contains(first))
            first = next[first];
        var turn = cycle.IndexOf(first);
        return [.. cycle[turn..], .. cycle[..turn]];
    }
}
