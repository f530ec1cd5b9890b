using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>Finds outputs that are on while their own wire is off, without a pause in between.</summary>
internal sealed class OwnWireRule : IModuleRule
{
    private const long ShortestPauseUs = 1000;

    public void Check(Module module, DiagnosticBag diagnostics)
    {
        foreach (var output in module.Outputs)
        {
            var reads = output.While.Any(all => all.OfType<InputCondition>().Any(c => !c.Active && module.Inputs[c.Input].Name == output.Name));
            if (reads && output.AfterUs + module.Inputs.First(i => i.Name == output.Name).DebounceUs < ShortestPauseUs)
                diagnostics.Add(Codes.OwnWire, output.Span, $"'{output.Name}' is on while the input of its name is inactive, and drives that input", "give it another condition, or an 'after' of 1 ms or more if it is meant to blink");
        }
    }
}
