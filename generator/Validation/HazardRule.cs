using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

internal sealed class HazardRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        if (module.Hazard is not Hazard.None && module.Acknowledge is null)
            diagnostics.Add(Codes.NotAcknowledged, module.Span, $"the module belongs to the hazard class '{Cautions.Word(module.Hazard)}' and nobody has acknowledged it", "add 'acknowledge: <who decided, why it is safe here, under which rules>'");
        if (module.Hazard is Hazard.None && module.Acknowledge is not null)
            diagnostics.Add(Codes.NothingToAcknowledge, module.Span, "there is an acknowledgement, but the hazard is 'none'", "remove the line, or name the hazard");
    }
}
