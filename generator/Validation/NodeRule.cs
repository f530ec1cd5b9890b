using Locum.Diagnostics;
using Locum.Model;
using Locum.Wire;

namespace Locum.Validation;

/// <summary>Frames that carry a node's address are not those which the node sends by itself, and are sent only where it takes part.</summary>
internal sealed class NodeRule : IModuleRule
{
    private static readonly int[] s_own = [ParameterGroup.Acknowledgement, ParameterGroup.Packets, ParameterGroup.Connection, ParameterGroup.AddressClaimed];

    public void Check(Module module, DiagnosticBag diagnostics)
    {
        foreach (var node in module.Nodes)
        {
            var row = module.Frames[node.Frame];
            foreach (var frame in module.Frames.Where(f => f.Bus >= 0 && f.Id.IsValid && node.Carries(f, row.Bus)))
            {
                var group = ParameterGroup.Of(frame.Id);
                if (s_own.Contains(group) && frame.Id != row.Id)
                    diagnostics.Add(Codes.NodeFrame, frame.IdSpan, $"{frame.Id} is group 0x{group:X4} from address 0x{node.Address:X2}, which the node '{node.Name}' sends by itself", "remove the frame, or the node", node.Span);
                else if (node.Answers.Any(a => a.Group == group && a.Frame is null))
                    diagnostics.Add(Codes.NodeFrame, frame.IdSpan, $"'{node.Name}' answers with bytes for group 0x{group:X4}, which '{frame.Name}' sends", $"write '0x{group:X4}: {{frame: {frame.Name}}}' among the answers", node.Span);
                if (frame.Modes.Except(row.Modes).ToList() is { Count: > 0 } modes)
                    diagnostics.Add(Codes.HeldFrame, frame.Span, $"'{frame.Name}' carries the address of '{node.Name}', which does not take part in {string.Join(", ", modes.Select(m => $"'{module.Modes[m].Name}'"))}; it is not sent there", "let both have the same modes", node.Span);
            }
        }
    }
}
