using System.Text;
using Locum.Diagnostics;

namespace Locum.Formulas;

/// <summary>
/// A formula prepared for the C# expression parser: limited in size and characters, and with every word marked as a
/// name, because a field may be called like a word of C#.
/// </summary>
/// <param name="Text">The prepared text.</param>
internal sealed record Scanned(string Text, IReadOnlyList<int> Starts)
{
    public const int MostCharacters = 2000;
    public const int MostDepth = 32;

    private const string Signs = "+-*/%<>=!&|^~?:(),.";

    /// <summary>The place in the written text of a part of the prepared one.</summary>
    public Place Back(int start, int length)
    {
        var first = Starts[Math.Clamp(start, 0, Starts.Count - 1)];
        var end = Starts[Math.Clamp(start + length, 0, Starts.Count - 1)];
        return new Place(first, Math.Max(end - first, 0));
    }

    /// <summary>Null (and a finding) when the text cannot be a formula.</summary>
    public static Scanned? Scan(FormulaText source, DiagnosticBag diagnostics)
    {
        var text = source.Text;
        if (text.Length > MostCharacters)
        {
            diagnostics.Add(Codes.FormulaSize, source.Span, $"the formula has {text.Length} characters, at most {MostCharacters} are allowed", "split it into several fields");
            return null;
        }
        var prepared = new StringBuilder();
        var starts = new List<int>();
        var depth = 0;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (c is '/' && i + 1 < text.Length && text[i + 1] is '/' or '*')
                return Refuse(i, 2, "a comment cannot stand in a formula", "use a YAML comment, which starts with ' #' outside the quotation marks");
            if (!char.IsLetterOrDigit(c) && c is not ('_' or ' ' or '\t' or '\n' or '\r') && !Signs.Contains(c, StringComparison.Ordinal))
                return Refuse(i, char.IsHighSurrogate(c) ? 2 : 1, $"'{Printable.Short(c.ToString())}' has no meaning in a formula", "formulas are made of numbers, names, parentheses and the operators of C on integers");
            depth += c is '(' ? 1 : c is ')' ? -1 : 0;
            if (depth > MostDepth)
            {
                diagnostics.Add(Codes.FormulaSize, source.At(new Place(i, 1)), $"parentheses are nested more than {MostDepth} levels deep", "split the formula into several fields");
                return null;
            }
            var startsWord = IsWord(c) && (i is 0 || !IsWord(text[i - 1]));
            if (startsWord && !char.IsAsciiDigit(c))
                Append('@', i);
            Append(c, i);
        }
        starts.Add(text.Length);
        return new Scanned(prepared.ToString(), starts);

        void Append(char c, int at)
        {
            prepared.Append(c);
            starts.Add(at);
        }

        Scanned? Refuse(int at, int length, string message, string mend)
        {
            diagnostics.Add(Codes.FormulaSyntax, source.At(new Place(at, length)), message, mend);
            return null;
        }
    }

    private static bool IsWord(char c) => char.IsLetterOrDigit(c) || c is '_';
}
