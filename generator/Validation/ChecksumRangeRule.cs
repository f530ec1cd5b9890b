using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>A checksum may not depend on itself, and should not read a checksum that is computed later.</summary>
internal sealed class ChecksumRangeRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        foreach (var frame in module.Frames.SelectMany(f => f.Variants))
            for (var i = 0; i < frame.Fields.Count; i++)
                if (frame.Fields[i].Source is ChecksumValue { Checksum: var checksum })
                    CheckOne(frame, i, checksum, diagnostics);
    }

    private static void CheckOne(Frame frame, int index, Checksum checksum, DiagnosticBag diagnostics)
    {
        var field = frame.Fields[index];
        var own = Bytes(field);
        if (!checksum.OwnBitsZero && checksum.Over.FirstOrDefault(own.Contains, -1) is >= 0 and var covered)
            diagnostics.Add(Codes.ChecksumCoversItself, checksum.Span, $"'{field.Name}' lies in byte {covered}, which its own range covers", "leave the byte out of 'over', or say 'own bits: zero' when the original computed it with these bits at 0");
        foreach (var later in frame.Fields.Skip(index + 1).Where(f => f.Source is ChecksumValue))
            if (checksum.Over.Any(Bytes(later).Contains))
                diagnostics.Add(Codes.ChecksumOrder, checksum.Span, $"'{field.Name}' reads '{later.Name}', which is computed after it and still 0", $"define '{later.Name}' before '{field.Name}', or leave its bytes out");
    }

    private static HashSet<int> Bytes(Field field) => [.. field.Positions().Select(p => p / 8)];
}
