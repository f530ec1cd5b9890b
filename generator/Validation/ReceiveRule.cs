using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>A module cannot listen to its own frames by identifier; masks leave them out by themselves.</summary>
internal sealed class ReceiveRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        // A node listens to claims of its own address by others.
        var claims = module.Nodes.Select(n => module.Receives[n.Claim]).ToHashSet(ReferenceEqualityComparer.Instance);
        foreach (var received in module.Receives.Where(r => !claims.Contains(r)))
            foreach (var frame in module.Frames.Where(f => f.Bus == received.Bus && f.Id == received.Id && received.Mask != 0))
                diagnostics.Add(Codes.OwnFrameReceived, received.Span, $"'{received.Name}' has the identifier of '{frame.Name}', which this module sends", "correct one of the identifiers", frame.Span);
    }
}
