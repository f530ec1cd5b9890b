using System.Globalization;
using System.Text;

namespace Locum.Reporting;

/// <summary>How many columns of a terminal a character takes: 0, 1 or 2.</summary>
/// <remarks>Ranges after Unicode Standard Annex #11 (wide and fullwidth), from memory and by blocks, so rare characters may be off by one; terminals differ as well.</remarks>
internal static class DisplayWidth
{
    private static readonly (int First, int Last)[] s_wide =
    [
        (0x1100, 0x115F), (0x231A, 0x231B), (0x23E9, 0x23EC), (0x25FD, 0x25FE), (0x2614, 0x2615), (0x2648, 0x2653),
        (0x26A1, 0x26A1), (0x26AA, 0x26AB), (0x26BD, 0x26BE), (0x2705, 0x2705), (0x270A, 0x270B), (0x2728, 0x2728),
        (0x274C, 0x274C), (0x2753, 0x2755), (0x2757, 0x2757), (0x2795, 0x2797), (0x2B50, 0x2B50), (0x2E80, 0x303E),
        (0x3041, 0x4DBF), (0x4E00, 0xA4CF), (0xA960, 0xA97F), (0xAC00, 0xD7A3), (0xF900, 0xFAFF), (0xFE30, 0xFE6F),
        (0xFF00, 0xFF60), (0xFFE0, 0xFFE6), (0x1F300, 0x1F64F), (0x1F680, 0x1F6FF), (0x1F900, 0x1F9FF),
        (0x1FA70, 0x1FAFF), (0x20000, 0x3FFFD),
    ];

    /// <summary>0 for marks that join the character before, 2 for wide characters, otherwise 1.</summary>
    public static int Of(Rune rune)
    {
        if (Rune.GetUnicodeCategory(rune) is UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark)
            return 0;
        return Array.Exists(s_wide, r => rune.Value >= r.First && rune.Value <= r.Last) ? 2 : 1;
    }

    /// <summary>The text in exactly that many columns: cut with a mark, or filled with spaces.</summary>
    public static string Fit(string text, int columns)
    {
        var cut = Cut(text, columns);
        return cut + new string(' ', columns - Of(cut));
    }

    /// <summary>The text in at most that many columns; what is cut ends with a mark.</summary>
    public static string Cut(string text, int columns)
    {
        if (Of(text) <= columns)
            return text;
        var cut = new StringBuilder();
        var left = columns - 1;
        foreach (var rune in text.EnumerateRunes())
        {
            left -= Of(rune);
            if (left < 0)
                break;
            cut.Append(rune);
        }
        return columns > 0 ? cut.Append('…').ToString() : "";
    }

    public static int Of(string text) => text.EnumerateRunes().Sum(Of);
}
