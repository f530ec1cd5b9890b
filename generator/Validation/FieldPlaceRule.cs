using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>Every field inside its frame, no bit written twice.</summary>
internal sealed class FieldPlaceRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        foreach (var frame in module.Frames.SelectMany(f => f.Variants))
        {
            var owners = new Dictionary<int, Field>();
            foreach (var field in frame.Fields)
                CheckField(frame, field, owners, diagnostics);
        }
    }

    private static void CheckField(Frame frame, Field field, Dictionary<int, Field> owners, DiagnosticBag diagnostics)
    {
        var positions = field.Positions().ToList();
        if (positions.Any(p => p < 0 || p >= frame.Length * 8))
        {
            var hint = field.BigEndian ? "; with 'order: big' the field grows towards byte 0" : "";
            diagnostics.Add(Codes.FieldOutside, field.Span, $"'{field.Name}' starts at bit {field.Bit} with {field.Bits} bits and leaves the {frame.Length} bytes of '{frame.Name}'{hint}", "correct the position, the width or the frame's length");
            return;
        }
        foreach (var position in positions)
        {
            if (owners.TryAdd(position, field))
                continue;
            var other = owners[position];
            diagnostics.Add(Codes.FieldOverlap, field.Span, $"'{field.Name}' and '{other.Name}' both have bit {position % 8} of byte {position / 8}", "move one of them", other.Span);
            return;
        }
    }
}
