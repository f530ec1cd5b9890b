using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

internal sealed class CounterRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        var used = new HashSet<int>();
        foreach (var frame in module.Frames.SelectMany(f => f.Variants))
        {
            foreach (var field in frame.Fields)
            {
                if (field.Source is not CounterValue { Counter: var index })
                    continue;
                used.Add(index);
                var counter = module.Counters[index];
                var most = field.Bits >= 32 ? uint.MaxValue : (1u << field.Bits) - 1;
                if (counter.Highest > most)
                    diagnostics.Add(Codes.CounterFit, field.Span, $"the counter reaches {counter.Highest}, {field.Bits} bits hold {most} at most", $"widen '{field.Name}', or end the counter at {most}");
            }
        }
        for (var i = 0; i < module.Counters.Count; i++)
            if (!used.Contains(i))
                diagnostics.Add(Codes.UnusedCounter, module.Counters[i].Span, $"no field carries the counter '{module.Counters[i].Name}'", "use it with 'counter: <name>', or remove it");
    }
}
