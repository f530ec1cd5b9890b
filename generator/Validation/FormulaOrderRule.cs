using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>A formula should not read payload bytes in which bits are written after it.</summary>
internal sealed class FormulaOrderRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        foreach (var frame in module.Frames.SelectMany(f => f.Variants))
            for (var i = 0; i < frame.Fields.Count; i++)
                if (frame.Fields[i].Source is FormulaValue { Formula: var formula })
                    CheckOne(frame.Fields, i, formula.Bytes, diagnostics);
    }

    private static void CheckOne(IReadOnlyList<Field> fields, int index, IReadOnlyList<int> bytes, DiagnosticBag diagnostics)
    {
        for (var i = 0; i < fields.Count; i++)
        {
            if (fields[i].Source is not ChecksumValue && (fields[i].Source is not FormulaValue || i <= index))
                continue;
            var read = fields[i].Positions().Select(p => p / 8).Where(bytes.Contains).ToList();
            if (read.Count > 0)
                diagnostics.Add(Codes.FormulaReadsLater, fields[index].Span, $"the formula of '{fields[index].Name}' reads byte {read[0]}, in which '{fields[i].Name}' is written later and is still 0", $"leave the byte out, or define '{fields[i].Name}' before", fields[i].Span);
        }
    }
}
