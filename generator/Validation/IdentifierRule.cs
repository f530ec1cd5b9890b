using Locum.Diagnostics;
using Locum.Model;
using Locum.Wire;

namespace Locum.Validation;

internal sealed class IdentifierRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        var seen = new Dictionary<(int Bus, CanId Id), Frame>();
        foreach (var frame in module.Frames.Where(f => f.Bus >= 0 && f.Id.IsValid))
        {
            // Two nodes with one address are reported as such.
            if (!seen.TryAdd((frame.Bus, frame.Id), frame) && !(frame.IsNode && seen[(frame.Bus, frame.Id)].IsNode))
            {
                var first = seen[(frame.Bus, frame.Id)];
                diagnostics.Add(Codes.SameIdentifier, frame.IdSpan, $"{frame.Id} on '{module.Buses[frame.Bus].Name}' belongs to '{first.Name}' already", "give each frame its own identifier", first.IdSpan);
            }
        }
    }
}
