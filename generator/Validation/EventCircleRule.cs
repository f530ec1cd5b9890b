using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>Frames may be sent after each other in a row, not in a circle.</summary>
internal sealed class EventCircleRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        for (var start = 0; start < module.Frames.Count; start++)
        {
            var seen = new HashSet<int>();
            var open = new Stack<int>(Causes(module.Frames[start]));
            while (open.TryPop(out var frame))
            {
                if (frame == start)
                {
                    diagnostics.Add(Codes.EventCircle, module.Frames[start].Span, $"'{module.Frames[start].Name}' is sent after a frame that is sent after it", "let one of the frames be sent by its period");
                    break;
                }
                if (frame < module.Frames.Count && seen.Add(frame))
                    foreach (var cause in Causes(module.Frames[frame]))
                        open.Push(cause);
            }
        }
    }

    private static IEnumerable<int> Causes(Frame frame) =>
        (frame.Events?.Triggers ?? []).Where(t => t.Kind is TriggerKind.Frame).Select(t => t.Index);
}
