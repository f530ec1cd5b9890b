using System.Text;
using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Reporting;

/// <summary>One line of a source, cut around a place, with carets under it.</summary>
/// <param name="Line">Safe to show; a tab is one space.</param>
/// <param name="Carets">Spaces, then at least one '^'.</param>
internal sealed record Excerpt(string Line, string Carets)
{
    // Enough of what stands before the place to recognise it.
    private const int Lead = 24;

    /// <param name="span">Only its first line is shown; carets of a longer place reach to the end of the line.</param>
    /// <param name="columns">Room for the line, at least 8.</param>
    public static Excerpt Of(SourceText source, Span span, int columns)
    {
        var cells = Cells(source.Line(span.Line));
        var first = cells.TakeWhile(c => c.End < span.Column).Count();
        var last = span.EndLine > span.Line ? cells.Count : cells.TakeWhile(c => c.End < span.EndColumn).Count();
        last = Math.Clamp(last, first, cells.Count);

        var from = 0;
        var cutLeft = Width(cells, 0, cells.Count) > columns && Width(cells, 0, last) > columns - 1;
        if (cutLeft)
            while (from < first && (Width(cells, from, first) > Lead || cells[from].Width is 0))
                from++;
        cutLeft &= from > 0;
        var room = columns - (cutLeft ? 1 : 0);
        var to = cells.Count;
        if (Width(cells, from, to) > room)
            while (to > from && Width(cells, from, to) > room - 1)
                to--;
        // A line that ends here leaves room for more of what stands before.
        while (cutLeft && Width(cells, from - 1, to) <= room - (to < cells.Count ? 1 : 0))
            cutLeft = --from > 0;
        last = Math.Clamp(last, first, Math.Max(first, to));

        var before = (cutLeft ? 1 : 0) + Width(cells, from, Math.Min(first, to));
        var line = $"{(cutLeft ? "…" : "")}{string.Concat(cells.Skip(from).Take(to - from).Select(c => c.Text))}{(to < cells.Count ? "…" : "")}";
        return new Excerpt(line.TrimEnd(), new string(' ', before) + new string('^', Math.Max(1, Width(cells, first, last))));
    }

    // End: column of the cell's last UTF-16 unit, from 1.
    private static List<(string Text, int Width, int End)> Cells(string line)
    {
        var cells = new List<(string, int, int)>();
        var end = 0;
        foreach (var rune in line.EnumerateRunes())
        {
            end += rune.Utf16SequenceLength;
            var shown = rune.Value is '\t' ? " " : Printable.Clean(rune.ToString());
            cells.Add((shown, shown.EnumerateRunes().Sum(DisplayWidth.Of), end));
        }
        return cells;
    }

    private static int Width(List<(string Text, int Width, int End)> cells, int from, int to)
    {
        var width = 0;
        for (var i = from; i < to; i++)
            width += cells[i].Width;
        return width;
    }
}
