using Locum.Diagnostics;

namespace Locum.Formulas;

/// <summary>Text → checked formula. The syntax is that of C on integers, as far as listed here; see README.</summary>
public static class FormulaParser
{
    public const int MostNodes = 200;

    /// <summary>The formula, or null when it is unusable. Findings go to the bag.</summary>
    /// <param name="bits">Width of the field that takes the value.</param>
    /// <param name="signed">The field is signed.</param>
    public static Formula? Parse(FormulaText source, IFormulaScope scope, int bits, bool signed, DiagnosticBag diagnostics)
    {
        if (Scanned.Scan(source, diagnostics) is not { } scanned || ExpressionSyntaxReader.Read(source, scanned, scope, diagnostics) is not { } root)
            return null;
        new RangeCheck(source, diagnostics).Check(root, bits, signed);
        return new Formula(string.Join(' ', source.Text.Split((char[])[' ', '\t', '\r', '\n'], StringSplitOptions.RemoveEmptyEntries)), root);
    }

    /// <summary>A name as formulas write it: '_' for everything that is neither letter nor digit.</summary>
    public static string Word(string name) => string.Concat(name.Select(c => char.IsLetterOrDigit(c) ? c : '_'));
}
