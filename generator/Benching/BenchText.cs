using Locum.Diagnostics;
using Locum.Reporting;

namespace Locum.Benching;

/// <summary>Bench sheets for people, 80 columns.</summary>
public static class BenchText
{
    private const int Columns = 80;
    private const int LongestName = 16;
    private const int NarrowestText = 12;

    public static void Write(TextWriter writer, IReadOnlyList<BenchSheet> sheets)
    {
        var told = new HashSet<string>(StringComparer.Ordinal);
        foreach (var sheet in sheets)
        {
            writer.WriteLine($"bench of {Printable.Clean(sheet.Module)}, hazard {sheet.Hazard}");
            foreach (var caution in sheet.Cautions)
                Item(writer, "!", caution);
            writer.WriteLine();
            foreach (var table in sheet.Tables)
                Write(writer, table, told);
            List(writer, "does not hold", sheet.Problems);
            List(writer, "not described", sheet.Missing);
        }
        foreach (var table in Bench.General)
            Write(writer, table, told);
    }

    // What one table has told already is not told again.
    private static void Write(TextWriter writer, BenchTable table, HashSet<string> told)
    {
        writer.WriteLine(table.Title);
        var widths = Widths(table);
        var right = table.Columns.Select((_, i) => table.Rows.Any(r => r[i].Value is not null)).ToList();
        foreach (var row in table.Rows.Select(r => r.Select(c => c.Text)).Prepend(table.Columns))
            foreach (var line in Lines([.. row], widths, right))
                writer.WriteLine(line);
        foreach (var note in table.Notes.Where(told.Add))
            Item(writer, "-", note);
        writer.WriteLine();
    }

    // A row as lines: texts are broken in their columns.
    private static IEnumerable<string> Lines(IReadOnlyList<string> cells, IReadOnlyList<int> widths, IReadOnlyList<bool> right)
    {
        var broken = cells.Select((c, i) => SoftWrap.Lines(c, widths[i], 0, 0).SelectMany(l => Cut(l, widths[i])).ToList()).ToList();
        for (var line = 0; line < broken.Max(b => b.Count); line++)
            yield return ("  " + string.Join(' ', broken.Select((b, i) => Pad(line < b.Count ? b[line] : "", widths[i], right[i])))).TrimEnd();
    }

    private static string Pad(string text, int width, bool right)
    {
        var blanks = new string(' ', Math.Max(0, width - DisplayWidth.Of(text)));
        return right ? blanks + text : text + blanks;
    }

    private static IEnumerable<string> Cut(string word, int width)
    {
        var part = "";
        foreach (var rune in word.EnumerateRunes())
        {
            if (part.Length > 0 && DisplayWidth.Of(part) + DisplayWidth.Of(rune) > width)
            {
                yield return part;
                part = "";
            }
            part += rune;
        }
        yield return part;
    }

    // As wide as the contents; where that is too much, names first and then the widest texts give way.
    private static int[] Widths(BenchTable table)
    {
        var widths = table.Columns.Select((c, i) => table.Rows.Select(r => DisplayWidth.Of(r[i].Text)).Append(c.Length).Max()).ToArray();
        var room = Columns - 2 - (widths.Length - 1);
        if (widths.Sum() > room)
            widths[0] = Math.Min(widths[0], LongestName);
        while (widths.Sum() > room && widths.Max() > NarrowestText)
            widths[Array.LastIndexOf(widths, widths.Max())]--;
        while (widths.Sum() > room)
            widths[Array.LastIndexOf(widths, widths.Max())]--;
        return widths;
    }

    private static void List(TextWriter writer, string title, IReadOnlyList<string> lines)
    {
        if (lines.Count is 0)
            return;
        writer.WriteLine(title);
        foreach (var line in lines)
            Item(writer, "-", line);
        writer.WriteLine();
    }

    private static void Item(TextWriter writer, string mark, string text)
    {
        var lines = SoftWrap.Lines(text, Columns - 4, 0, 0).SelectMany(l => Cut(l, Columns - 4)).ToList();
        for (var i = 0; i < lines.Count; i++)
            writer.WriteLine($"  {(i is 0 ? mark : " ")} {lines[i]}");
    }
}
