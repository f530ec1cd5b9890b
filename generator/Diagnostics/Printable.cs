using System.Globalization;
using System.Text;

namespace Locum.Diagnostics;

/// <summary>Makes text from a file safe to show on a terminal.</summary>
public static class Printable
{
    /// <summary>At most 40 characters, control and direction characters replaced.</summary>
    public static string Short(string text)
    {
        var clean = Clean(text);
        return clean.Length <= 40 ? clean : clean[..(char.IsHighSurrogate(clean[38]) ? 38 : 39)] + "…";
    }

    /// <summary>Control, format and unpaired surrogate characters replaced by '·'.</summary>
    public static string Clean(string text)
    {
        var clean = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            var hidden = Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control or UnicodeCategory.Format
                or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator
                || rune == Rune.ReplacementChar;
            if (hidden)
                clean.Append('·');
            else
                clean.Append(rune);
        }
        return clean.ToString();
    }
}
