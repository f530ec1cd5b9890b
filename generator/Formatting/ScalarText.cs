using System.Globalization;
using System.Text;
using Locum.Schema;
using Locum.Syntax;

namespace Locum.Formatting;

/// <summary>Single values in their canonical spelling.</summary>
internal static class ScalarText
{
    /// <summary>The value as it is written, with quotes where they are needed.</summary>
    /// <param name="shape">What is expected at the place; null where nothing is known.</param>
    /// <param name="flow">Inside brackets or braces more characters need quotes.</param>
    public static string Of(ScalarNode node, Shape? shape, bool flow)
    {
        var found = Language.For(shape, node);
        var text = Normal(node.Value, found);
        if (text.Length is 0)
            return node.Quoted ? "\"\"" : "";
        // Quotes stay where other readers would take the text for a number or a truth value.
        var typed = found is Words or Whole or Numeric or Amount or ByteRow;
        var keep = node.Quoted && !typed && !CoreSchema.IsString(text);
        return !keep && IsPlain(text, flow) ? text : Quote(text);
    }

    /// <summary>A key with quotes where they are needed.</summary>
    public static string Key(string key, bool flow) => IsPlain(key, flow) ? key : Quote(key);

    /// <summary>The canonical spelling of a value, without quotes.</summary>
    public static string Normal(string text, Shape? shape) => shape switch
    {
        Whole or Numeric => Hexadecimal(text),
        Amount amount when Fit.Split(text, amount) is var (number, unit) => $"{number} {(unit is "µs" or "μs" ? "us" : unit)}",
        ByteRow when Fit.Fits(shape, text) => string.Join(' ', text.Split(' ', StringSplitOptions.RemoveEmptyEntries)).ToUpperInvariant(),
        _ => text,
    };

    /// <summary>True when the text can be broken into lines between words and read back as it was.</summary>
    public static bool CanFold(string text) =>
        text.Contains(' ', StringComparison.Ordinal) && text[0] is not ' ' && text[^1] is not ' ' && IsPrintable(text);

    private static string Hexadecimal(string text)
    {
        var x = text.IndexOf("0x", StringComparison.OrdinalIgnoreCase);
        return x is 0 or 1 ? string.Concat(text.AsSpan(0, x), "0x", text[(x + 2)..].ToUpperInvariant()) : text;
    }

    private static bool IsPlain(string text, bool flow)
    {
        if (text.Length is 0 || text[0] is ' ' || text[^1] is ' ' or ':' || !IsPrintable(text))
            return false;
        if (",[]{}#&*!|>'\"%@`".Contains(text[0], StringComparison.Ordinal)
            || (text[0] is '-' or '?' or ':' && (text.Length is 1 || text[1] is ' '))
            || text.StartsWith("---", StringComparison.Ordinal) || text.StartsWith("...", StringComparison.Ordinal))
            return false;
        if (text.Contains(": ", StringComparison.Ordinal) || text.Contains(" #", StringComparison.Ordinal))
            return false;
        return !flow || text.AsSpan().IndexOfAny(",[]{}") < 0 && text[0] is not ('?' or ':');
    }

    public static bool IsPrintable(string text) => text.EnumerateRunes().All(IsPrintable);

    private static bool IsPrintable(Rune rune) => rune.Value is ' '
        || (rune != Rune.ReplacementChar && !Rune.IsWhiteSpace(rune) && Rune.GetUnicodeCategory(rune)
            is not (UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.OtherNotAssigned or UnicodeCategory.PrivateUse));

    private static string Quote(string text)
    {
        var quoted = new StringBuilder("\"");
        for (var i = 0; i < text.Length; i++)
        {
            if (!Rune.TryGetRuneAt(text, i, out var rune))
                quoted.Append($"\\u{(int)text[i]:X4}");
            else if (rune.Value is '"' or '\\')
                quoted.Append('\\').Append(rune);
            else if (rune.Value is '\n')
                quoted.Append("\\n");
            else if (IsPrintable(rune))
                quoted.Append(rune);
            else
                quoted.Append(rune.IsBmp ? $"\\u{rune.Value:X4}" : $"\\U{rune.Value:X8}");
            if (rune.Utf16SequenceLength is 2)
                i++;
        }
        return quoted.Append('"').ToString();
    }
}
