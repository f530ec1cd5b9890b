using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

internal sealed class BusUseRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        for (var bus = 0; bus < module.Buses.Count; bus++)
            if (module.Frames.All(f => f.Bus != bus))
                diagnostics.Add(Codes.UnusedBus, module.Buses[bus].Span, $"no frame is sent on '{module.Buses[bus].Name}'", "remove the bus, or send a frame on it");
    }
}
