using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>Looks, for every combination of input levels, for modes that change into each other without time passing.</summary>
internal sealed class ModeChaseRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        var used = module.Modes.SelectMany(m => m.Exits).SelectMany(e => e.When).Select(c => c.Input).Distinct().ToList();
        var ways = module.Modes.Select(m => m.Exits.Select(e => new Way(e, used)).ToArray()).ToArray();
        var next = new int[module.Modes.Count];
        var reported = new HashSet<int>();
        for (uint levels = 0; levels < 1u << used.Count; levels++)
        {
            for (var mode = 0; mode < next.Length; mode++)
                next[mode] = Next(ways[mode], levels);
            for (var start = 0; start < next.Length; start++)
            {
                if (next[start] < 0 || Cycle(next, start) is not { } cycle || !reported.Add(cycle.Min()))
                    continue;
                var names = string.Join("' → '", cycle.Append(cycle[0]).Select(m => module.Modes[m].Name));
                diagnostics.Add(Codes.LoopedMode, module.Modes[cycle[0]].Span, $"with {Describe(module, used, levels)} the modes chase each other: '{names}'", "make the conditions exclude each other");
            }
        }
    }

    private static int Next(Way[] ways, uint levels)
    {
        foreach (var way in ways)
            if ((levels & way.Mask) == way.Wanted)
                return way.Then;
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

    private static string Describe(Module module, List<int> used, uint levels) => string.Join(", ",
        used.Select((input, i) => $"{module.Inputs[input].Name} {((levels >> i & 1) is 1 ? "active" : "inactive")}"));

    /// <summary>A mode exit as bits: it is taken when the masked levels are the wanted ones.</summary>
    private readonly record struct Way(uint Mask, uint Wanted, int Then)
    {
        public Way(ModeExit exit, List<int> used)
            : this(Bits(exit.When, used), Bits(exit.When.Where(c => c.Active), used), exit.Then)
        {
        }

        private static uint Bits(IEnumerable<InputCondition> conditions, List<int> used) =>
            conditions.Aggregate(0u, (bits, c) => bits | (1u << used.IndexOf(c.Input)));
    }
}
