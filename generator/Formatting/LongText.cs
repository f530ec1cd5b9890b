using Locum.Schema;

namespace Locum.Formatting;

/// <summary>Texts that are written below their key: long ones folded, those with lines as they are.</summary>
internal static class LongText
{
    private const int BytesPerLine = 16;

    /// <summary>True when a text is better written below its key.</summary>
    public static bool Suits(string text, bool tooLong) => IsLiteral(text) || (tooLong && ScalarText.CanFold(text));

    public static string Header(string text) => IsLiteral(text) ? text.EndsWith('\n') ? "|" : "|-" : ">-";

    public static IEnumerable<string> Lines(string text, Shape? shape, int indent, int columns)
    {
        var margin = new string(' ', indent);
        if (IsLiteral(text))
            return text.TrimEnd('\n').Split('\n').Select(l => l.Length > 0 ? margin + l : "");
        return Fold(text, Language.For(shape, new Syntax.ScalarNode(text, true, default)) is ByteRow ? (BytesPerLine * 3) - 1 : Math.Max(20, columns - indent)).Select(l => margin + l);
    }

    // Lines that a literal block gives back unchanged.
    private static bool IsLiteral(string text)
    {
        var lines = (text.EndsWith('\n') ? text[..^1] : text).Split('\n');
        return lines.Length > 1 && lines[^1].Length > 0 && lines[0].Length > 0
            && lines.All(l => l.Length is 0 || (l[0] is not ' ' && l[^1] is not ' ' && ScalarText.IsPrintable(l)));
    }

    // Breaks at single spaces only: others would not come back.
    private static IEnumerable<string> Fold(string text, int width)
    {
        var start = 0;
        while (text.Length - start > width)
        {
            var end = Break(text, start, width);
            if (end < 0)
                break;
            yield return text[start..end];
            start = end + 1;
        }
        yield return text[start..];
    }

    // The last place to break within the width, or the first one behind it; -1 when there is none.
    private static int Break(string text, int start, int width)
    {
        for (var i = start + width; i > start; i--)
            if (IsBreak(text, i))
                return i;
        for (var i = start + width; i < text.Length; i++)
            if (IsBreak(text, i))
                return i;
        return -1;
    }

    private static bool IsBreak(string text, int i) => i > 0 && i < text.Length - 1 && text[i] is ' ' && text[i - 1] is not ' ' && text[i + 1] is not ' ';
}
