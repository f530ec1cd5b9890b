using Locum.Diagnostics;
using Locum.Model;
using Locum.Parts;

namespace Locum.Validation;

/// <summary>Terminations and stubs fit the buses, and pins lead to something.</summary>
internal sealed class BenchWiringRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        if (module.Bench is not { } bench)
            return;
        foreach (var wiring in bench.Buses)
            Check(wiring, module.Buses[wiring.Bus], diagnostics);
        string[] parts = [.. bench.Resistors.Select(r => r.Name), .. bench.Loads.Select(l => l.Name), .. module.Buses.Select(b => b.Name)];
        foreach (var pin in bench.Connector?.Pins ?? [])
            if (pin.Part is { } part && !parts.Contains(part))
                diagnostics.Add(Codes.BenchName, pin.Span, $"pin '{Printable.Short(pin.Name)}' leads to '{Printable.Short(part)}', which is no resistor, load or bus", Nearest.Mend(part, parts, "part"));
    }

    private static void Check(BenchBus wiring, Bus bus, DiagnosticBag diagnostics)
    {
        var rate = bus.DataRate ?? bus.Rate;
        if (wiring.StubM is { } stub && stub > BusLine.StubM(rate))
            diagnostics.Add(Codes.LongStub, wiring.Span, $"a stub of {stub} m is longer than the {BusLine.StubM(rate)} m that {rate / 1000m:0.###} kbit/s allow", "loop the bus through at the board, or shorten the stub");
        if (wiring.StandInOhm is not { } standIn || wiring.Terminations.Count is 0)
            return;
        var ohm = BusLine.Parallel([.. wiring.Terminations.Where(t => !t.Removed).Select(t => t.Ohm), standIn]);
        if (!BusLine.IsTerminated(ohm))
            diagnostics.Add(Codes.WrongTermination, wiring.Span, $"with the stand-in's termination '{bus.Name}' has {ohm:0.#} ohm instead of {BusLine.LeastLoadOhm} to {BusLine.MostLoadOhm}", "a bus has 120 ohm at each of its two ends and nowhere else");
    }
}
