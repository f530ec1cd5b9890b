using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Reporting;

/// <summary>Findings for people: one line each, the mend below; on a terminal with the line of the source.</summary>
public static class DiagnosticText
{
    private const int Columns = 80;

    /// <summary>Writes every finding, then a line that counts them. Line ends are "\n"; nothing from a file reaches a terminal unfiltered.</summary>
    /// <param name="sources">Texts by path; findings about other paths have no excerpt.</param>
    /// <param name="excerpts">True for terminals: source lines with carets, long messages wrapped at 80 columns. False: one line for each message.</param>
    /// <param name="colours">True to colour with ANSI sequences.</param>
    public static void Write(TextWriter writer, IReadOnlyList<Diagnostic> diagnostics, IReadOnlyDictionary<string, SourceText> sources, bool excerpts, bool colours)
    {
        var paint = new Paint(colours);
        foreach (var diagnostic in diagnostics)
        {
            WriteHead(writer, diagnostic, excerpts, paint);
            if (excerpts && sources.TryGetValue(diagnostic.Span.File, out var source))
                WriteExcerpt(writer, diagnostic, source, paint);
            if (diagnostic.Mend is { } mend)
                Line(writer, $"  {paint.Faint("mend:")} {Prose(mend, excerpts, 8, 8)}");
            if (diagnostic.Other is { } other)
                Line(writer, $"  {paint.Faint("see")} {Printable.Clean(other.ToString())}");
            if (excerpts)
                Line(writer, "");
        }
        Line(writer, Summary(diagnostics));
    }

    /// <summary>"2 errors, 1 warning", or "no findings".</summary>
    public static string Summary(IReadOnlyList<Diagnostic> diagnostics)
    {
        var counts = diagnostics.GroupBy(d => d.Severity)
            .OrderByDescending(g => g.Key)
            .Select(g => $"{g.Count()} {SeverityWords.Of(g.Key)}{(g.Count() is 1 ? "" : "s")}")
            .ToList();
        return counts.Count is 0 ? "no findings" : string.Join(", ", counts);
    }

    private static void WriteHead(TextWriter writer, Diagnostic diagnostic, bool excerpts, Paint paint)
    {
        var place = Printable.Clean(diagnostic.Span.ToString()) + ":";
        var kind = $"{SeverityWords.Of(diagnostic.Severity)} {diagnostic.Code.Id}:";
        var taken = DisplayWidth.Of(place) + DisplayWidth.Of(kind) + 2;
        Line(writer, $"{paint.Strong(place)} {paint.Severity(diagnostic.Severity, kind)} {Prose(diagnostic.Message, excerpts, taken, 4)}");
    }

    private static void WriteExcerpt(TextWriter writer, Diagnostic diagnostic, SourceText source, Paint paint)
    {
        var number = diagnostic.Span.Line.ToString().PadLeft(5);
        var excerpt = Excerpt.Of(source, diagnostic.Span, Columns - number.Length - 3);
        if (excerpt.Line.Length is 0)
            return;
        Line(writer, $"{paint.Faint($"{number} |")} {excerpt.Line}");
        Line(writer, $"{paint.Faint($"{new string(' ', number.Length)} |")} {excerpt.Carets[..^excerpt.Carets.TrimStart().Length]}{paint.Severity(diagnostic.Severity, excerpt.Carets.TrimStart())}");
    }

    private static string Prose(string text, bool wrap, int first, int indent)
    {
        var clean = Printable.Clean(text);
        return wrap ? string.Join('\n', SoftWrap.Lines(clean, Columns, first, indent)) : clean;
    }

    private static void Line(TextWriter writer, string text)
    {
        writer.Write(text);
        writer.Write('\n');
    }
}
