using System.Text;
using System.Text.RegularExpressions;
using Locum.Model;

namespace Locum.Capture;

/// <summary>Finds the line of column names.</summary>
internal static partial class HeaderFinder
{
    private const int Least = 2;

    /// <summary>The line with the most known names, the last of equals in front of the first typical row; null when there is none.</summary>
    public static HeaderLine? Find(SampleTable table)
    {
        long first = table.Typical.Count is 0 ? long.MaxValue : table.Typical[0].Line.Number;
        var typical = table.Typical.Select(r => r.Line.Number).ToHashSet();
        return table.Rows
            .Where(r => !typical.Contains(r.Line.Number) && r.Fields.Length > 1)
            .Select(r => Read(r, table))
            .OfType<HeaderLine>()
            .Where(h => h.Known >= Least && h.Words.Any(w => w?.Role is ColumnRole.Id or ColumnRole.Data or ColumnRole.Byte or ColumnRole.Time))
            .OrderByDescending(h => h.Line.Number < first)
            .ThenByDescending(h => h.Known)
            .ThenByDescending(h => h.Line.Number)
            .FirstOrDefault();
    }

    private static HeaderLine? Read(SampleRow row, SampleTable table)
    {
        if (row.Fields.Count(f => Token.IsDecimal(f)) > row.Fields.Length / 2)
            return null;
        IReadOnlyList<string> names = row.Fields;
        if (table.IsBlanks)
            names = Blanks(Encoding.UTF8.GetString(row.Line.Bytes).Trim().TrimStart('#', ';', '%', '*').Trim());
        else if (names[0].TrimStart('#', ';', '%', '/') is var bare && bare != names[0])
            names = [bare.Trim(), .. names.Skip(1)];
        if (names.Count(n => n.Length > 0) < Least)
            return null;
        // D4 and B9 can be bytes as well as names of them: a known name must be there that is no number.
        var words = names.Select(HeaderWords.Of).ToList();
        return words.Zip(names).Any(w => w.First is not null && !Token.IsHex(w.Second)) ? new HeaderLine(row.Line, names, words) : null;
    }

    // Names of several words stand closer together than columns; units in brackets belong to what stands before.
    private static List<string> Blanks(string text)
    {
        var wide = WideGap().Split(text);
        if (wide.Length > 2 && wide.All(w => HeaderWords.Of(w) is not null || !w.Contains(' ', StringComparison.Ordinal)))
            return [.. wide];
        var names = new List<string>();
        var words = Gap().Split(text);
        for (int i = 0; i < words.Length; i++)
        {
            string name = words[i];
            if (i + 1 < words.Length && HeaderWords.Of($"{name} {words[i + 1]}") is not null && (HeaderWords.Of(words[i + 1]) is null || HeaderWords.Of(name) is null || words[i + 1] is ['[' or '(', ..]))
                name = $"{name} {words[++i]}";
            names.Add(name);
        }

        return names;
    }

    [GeneratedRegex(@" {2,}|\t+|\s*\|\s*")]
    private static partial Regex WideGap();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Gap();
}
