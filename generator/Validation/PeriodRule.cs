using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

internal sealed class PeriodRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        foreach (var frame in module.Frames.Where(f => f.Bus >= 0))
        {
            var bus = module.Buses[frame.Bus];
            var wire = FrameTime.WorstUs(frame, bus);
            if (!frame.IsCyclic)
                continue;
            if (frame.ShortestPeriodUs < wire)
                diagnostics.Add(Codes.TooFast, frame.Span, $"'{frame.Name}' is due every {frame.ShortestPeriodUs} µs but needs up to {wire} µs on '{bus.Name}'", $"choose a period of at least {wire} µs");
            if (frame.OffsetUs > frame.PeriodUs)
                diagnostics.Add(Codes.OffsetBeyondPeriod, frame.Span, $"'{frame.Name}' starts {frame.OffsetUs} µs after its mode, longer than its period of {frame.PeriodUs} µs", "keep it if the module really started that late");
        }
    }
}
