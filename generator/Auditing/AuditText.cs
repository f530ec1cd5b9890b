using Locum.Capture;
using Locum.Diagnostics;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>An audit for people: worst first, at most 80 columns.</summary>
public static class AuditText
{
    private const int Columns = 80;
    private const int Indent = 4;

    /// <summary>Writes the audit. Line ends are "\n"; nothing from a file reaches a terminal unfiltered.</summary>
    /// <param name="capture">Path of the capture.</param>
    public static void Write(TextWriter writer, string capture, AuditResult result)
    {
        Wrap(writer, $"{capture}: {AuditWords.Extent(result)}", 0);
        foreach (var bus in result.Buses)
            Wrap(writer, AuditWords.Bus(bus), 2);
        for (var i = 0; i < result.Findings.Count; i++)
            WriteFinding(writer, i + 1, result.Findings[i], result.Parts);
        Line(writer, "");
        Line(writer, AuditWords.Sum(result));
        if (result.NotJudged.Count > 0)
            Line(writer, "not judged:");
        foreach (var what in result.NotJudged)
            Wrap(writer, $"- {what}", 2);
        Wrap(writer, AuditWords.Tolerated(result.Tolerance), 0);
        Wrap(writer, AuditWords.Assumed, 0);
    }

    private static void WriteFinding(TextWriter writer, int number, Finding finding, IReadOnlyList<RecordingPart> parts)
    {
        Line(writer, "");
        Wrap(writer, $"{number}. {AuditWords.Title(finding)}", 0);
        Wrap(writer, finding.Message, Indent);
        Wrap(writer, $"{AuditWords.When(finding, parts)}; see {finding.Span.File}:{finding.Span.Line}", Indent);
        Wrap(writer, AuditWords.Complaint(finding), Indent);
    }

    private static void Wrap(TextWriter writer, string text, int indent)
    {
        var lines = SoftWrap.Lines(Printable.Clean(text), Columns, indent, indent + 2);
        for (var i = 0; i < lines.Count; i++)
            Line(writer, i is 0 ? new string(' ', indent) + lines[i] : lines[i]);
    }

    private static void Line(TextWriter writer, string text)
    {
        writer.Write(text);
        writer.Write('\n');
    }
}
