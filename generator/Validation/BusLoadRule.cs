using Locum.Diagnostics;
using Locum.Model;
using Locum.Wire;

namespace Locum.Validation;

/// <summary>Adds up the worst-case wire time of a module's frames, mode by mode.</summary>
internal sealed class BusLoadRule : IModuleRule
{
    private const double High = 0.7;

    public void Check(Module module, DiagnosticBag diagnostics)
    {
        for (var bus = 0; bus < module.Buses.Count; bus++)
        {
            var (load, mode) = module.Modes.Select(m => (Load: Load(module, bus, m.Index), m.Name)).MaxBy(l => l.Load);
            var text = $"the frames on '{module.Buses[bus].Name}' take up to {load * 100:0.#} % of the bus in mode '{mode}'";
            if (load > 1)
                diagnostics.Add(Codes.Overload, module.Buses[bus].Span, text, "lengthen periods, or correct the bit rate");
            else if (load > High)
                diagnostics.Add(Codes.HighLoad, module.Buses[bus].Span, text, "check periods and bit rate");
        }
    }

    internal static double Load(Module module, int bus, int mode) => module.Frames
        .Where(f => f.Bus == bus && f.Modes.Contains(mode) && f.IsCyclic)
        .Sum(f => (double)FrameTime.WorstUs(f, module.Buses[bus]) / f.PeriodIn(mode));
}
