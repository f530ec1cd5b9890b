using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

internal sealed class ChecksumWidthRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        foreach (var field in module.Frames.SelectMany(f => f.AllFields))
        {
            if (field.Source is not ChecksumValue { Checksum: var checksum })
                continue;
            var (fits, wanted) = checksum.Rule switch
            {
                CrcRule crc => (field.Bits == crc.Parameters.Width, $"{crc.Parameters.Width} bits"),
                FormulaRule => (true, ""), // its range is checked where it is parsed
                J1939Rule => (field.Bits is 3 or 4, "3 or 4 bits"),
                SumRule => (field.Bits <= 16, "at most 16 bits"),
                XorRule { Nibbles: true } => (field.Bits <= 4, "at most 4 bits"),
                _ => (field.Bits <= 8, "at most 8 bits"),
            };
            if (!fits)
                diagnostics.Add(Codes.ChecksumWidth, field.Span, $"'{field.Name}' has {field.Bits} bits, the rule '{checksum.Rule.Name}' gives {wanted}", $"make the field {wanted} wide, or choose another rule");
        }
    }
}
