using System.Globalization;
using Locum.Diagnostics;

namespace Locum.Formulas;

/// <summary>Reads whole numbers: decimal, 0x, 0b.</summary>
internal static class NumberReader
{
    /// <summary>The number, or null (and a finding).</summary>
    /// <param name="negated">A minus sign stands before it, so that 2147483648 is possible.</param>
    public static ConstantNode? Read(FormulaText source, Place place, bool negated, DiagnosticBag diagnostics)
    {
        var text = source.Of(place);
        var prefix = text.Length > 2 ? text[..2].ToLowerInvariant() : "";
        if (prefix is "0x" or "0b")
        {
            var style = prefix is "0x" ? NumberStyles.AllowHexSpecifier : NumberStyles.AllowBinarySpecifier;
            if (UInt128.TryParse(text.AsSpan(2), style, CultureInfo.InvariantCulture, out var bits))
                return bits <= uint.MaxValue ? new ConstantNode(place, unchecked((int)(uint)bits), Hexadecimal: true) : TooLarge();
            return Refuse("is not a whole number", "write decimal digits, or hexadecimal ones behind 0x");
        }
        if (!text.All(char.IsAsciiDigit))
            return Refuse("is not a whole number", "formulas compute with whole numbers: write decimal digits, or hexadecimal ones behind 0x, without suffix");
        if (text.Length > 1 && text[0] is '0')
            return Refuse("starts with 0, which means base 8 in C and base 10 elsewhere", "leave out the leading zeros");
        if (!long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var value) || value > int.MaxValue + (negated ? 1L : 0))
            return TooLarge();
        return new ConstantNode(place, unchecked((int)value));

        ConstantNode? TooLarge() => Refuse("has more than 32 bits", $"formulas compute with {int.MinValue} to {int.MaxValue}; hexadecimal numbers reach 0xFFFFFFFF, which is -1");

        ConstantNode? Refuse(string why, string mend)
        {
            diagnostics.Add(Codes.FormulaNumber, source.At(place), $"'{Printable.Short(text)}' {why}", mend);
            return null;
        }
    }
}
