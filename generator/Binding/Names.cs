using System.Text;
using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Binding;

/// <summary>Rules for names in descriptions.</summary>
public static class Names
{
    public const int MaxLength = 48;

    /// <summary>Letters of any script, digits, space, '-', '_' and '.', starting with a letter.</summary>
    public static bool IsUsable(string name) =>
        name.Length is > 0 and <= MaxLength
        && Rune.IsLetter(name.EnumerateRunes().First())
        && name.EnumerateRunes().All(r => Rune.IsLetterOrDigit(r) || r.Value is ' ' or '-' or '_' or '.')
        && !name.EndsWith(' ');

    /// <summary>Reports names that would be one C identifier.</summary>
    public static void CheckClashes(IEnumerable<(string Name, Span Span)> names, string what, DiagnosticBag diagnostics)
    {
        var seen = new Dictionary<string, (string Name, Span Span)>(StringComparer.Ordinal);
        foreach (var (name, span) in names)
        {
            var c = ToC(name);
            if (!seen.TryAdd(c, (name, span)))
                diagnostics.Add(Codes.NameClash, span, $"the {what} '{name}' and '{seen[c].Name}' have the same name in C", "rename one of them", seen[c].Span);
        }
    }

    /// <summary>The name as a part of a C identifier: lower case, words joined by '_', other scripts as code points.</summary>
    public static string ToC(string name)
    {
        var c = new StringBuilder();
        var previousLower = false;
        foreach (var rune in name.EnumerateRunes())
        {
            if (rune.IsAscii && Rune.IsLetterOrDigit(rune))
            {
                var letter = (char)rune.Value;
                if (char.IsAsciiLetterUpper(letter) && previousLower)
                    c.Append('_');
                c.Append(char.ToLowerInvariant(letter));
                previousLower = char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter);
            }
            else
            {
                c.Append(rune.IsAscii ? "_" : $"u{rune.Value:x4}");
                previousLower = false;
            }
        }
        return c.ToString();
    }
}
