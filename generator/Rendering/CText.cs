using System.Globalization;
using System.Text;

namespace Locum.Rendering;

/// <summary>Text of a description as text inside generated files; nothing in it can change the program around it.</summary>
public static class CText
{
    /// <summary>Safe inside a C comment, a Makefile comment and Markdown: printable ASCII, no comment marks, trigraphs, backslashes or markup.</summary>
    public static string Comment(string text)
    {
        var safe = new StringBuilder(text.Length);
        foreach (var c in text.Normalize(NormalizationForm.FormD))
        {
            if (CharUnicodeInfo.GetUnicodeCategory(c) is UnicodeCategory.NonSpacingMark)
                continue;
            var letter = c switch
            {
                '\n' or '\r' or '\t' => ' ',
                '\\' or '`' => '\'',
                '<' => '(',
                '>' => ')',
                '$' => 'S',
                '–' or '—' => '-',
                '°' or 'µ' or 'Ω' or 'μ' => Unit(c),
                < ' ' or > '~' => '?',
                _ => c,
            };
            // Neither the end of a comment nor a trigraph may arise, also not across replaced characters.
            var last = safe.Length > 0 ? safe[^1] : ' ';
            if ((last, letter) is ('*', '/') or ('/', '*') or ('/', '/') or ('?', '?'))
                safe.Append(' ');
            safe.Append(letter);
        }
        return string.Join(' ', safe.ToString().Split(' ', StringSplitOptions.RemoveEmptyEntries));
    }

    /// <summary>The text in lines of at most <paramref name="width"/> characters, broken at spaces; longer words are cut.</summary>
    public static IReadOnlyList<string> Wrap(string text, int width)
    {
        var lines = new List<string>();
        var line = new StringBuilder();
        foreach (var word in Comment(text).Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(w => Cut(w, width)))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > width)
            {
                lines.Add(line.ToString());
                line.Clear();
            }
            if (line.Length > 0)
                line.Append(' ');
            line.Append(word);
        }
        if (line.Length > 0)
            lines.Add(line.ToString());
        return lines;
    }

    /// <summary>A time as people write it: 20 ms, 1.5 s, 250 us.</summary>
    public static string Time(long us) => us switch
    {
        0 => "0 ms",
        >= 1_000_000 => $"{us / 1e6:0.######} s",
        >= 1_000 => $"{us / 1e3:0.###} ms",
        _ => $"{us} us",
    };

    private static char Unit(char c) => c is 'Ω' ? 'R' : c is '°' ? 'o' : 'u';

    private static IEnumerable<string> Cut(string word, int width)
    {
        for (var i = 0; i < word.Length; i += width)
            yield return word.Substring(i, Math.Min(width, word.Length - i));
    }
}
