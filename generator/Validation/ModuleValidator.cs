using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>Runs every rule on a module; one finding never hides another.</summary>
public static class ModuleValidator
{
    private static readonly IModuleRule[] s_rules =
    [
        new HazardRule(),
        new BusUseRule(),
        new BusLoadRule(),
        new IdentifierRule(),
        new ReceiveRule(),
        new NodeRule(),
        new ModeReachRule(),
        new OwnWireRule(),
        new ModeChaseRule(),
        new PeriodRule(),
        new EventCircleRule(),
        new FieldPlaceRule(),
        new CounterRule(),
        new FormulaOrderRule(),
        new ChecksumRangeRule(),
        new ChecksumWidthRule(),
        new BenchPartRule(),
        new BenchWiringRule(),
    ];

    public static void Check(Module module, DiagnosticBag diagnostics)
    {
        foreach (var rule in s_rules)
            rule.Check(module, diagnostics);
    }
}
