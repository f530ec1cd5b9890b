using System.Globalization;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Inference;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>An audit for people: worst first, at most 80 columns.</summary>
public static class AuditText
{
    private const int Columns = 80;
    private const int Indent = 4;
    private const double UsPerSecond = 1e6;

    /// <summary>Writes the audit. Line ends are "\n"; nothing from a file reaches a terminal unfiltered.</summary>
    /// <param name="capture">Path of the capture.</param>
    public static void Write(TextWriter writer, string capture, AuditResult result)
    {
        var time = result.Parts.Sum(p => p.DurationUs);
        Wrap(writer, $"{capture}: {Words.Time(time)}, {Words.Count(result.Judged, "frame")} of the description", 0);
        foreach (var bus in result.Buses)
            Wrap(writer, $"bus {bus.Name}: {How(bus)}", 2);
        for (var i = 0; i < result.Findings.Count; i++)
            WriteFinding(writer, i + 1, result.Findings[i], result.Parts);
        Line(writer, "");
        Line(writer, result.Findings.Count is 0 ? "no findings" : $"{Words.Count(result.Findings.Count, "finding")}, {result.Findings.Count(f => f.ComplainsUs is not null)} of them with a complaint of a typical receiver");
        if (result.NotJudged.Count > 0)
            Line(writer, "not judged:");
        foreach (var what in result.NotJudged)
            Wrap(writer, $"- {what}", 2);
        var tolerance = result.Tolerance;
        Wrap(writer, $"tolerated: {Words.Time(tolerance.InstantUs)} in time (stamps in steps of {Words.Time(tolerance.StepUs)}, wrong by up to {Words.Time(tolerance.StampUs)}; {Words.Time(Tolerance.BoardUs)} for the board), {Tolerance.PeriodShare:P0} of a period, {Tolerance.ClockShare:P0} of its mean, {Words.Time(Tolerance.ReactionUs)} to react", 0);
        Wrap(writer, $"assumed (common practice, no source): {TypicalReceiver.Assumption}", 0);
    }

    private static void WriteFinding(TextWriter writer, int number, Finding finding, IReadOnlyList<RecordingPart> parts)
    {
        Line(writer, "");
        var sure = finding.Confidence is Confidence.Certain ? "" : $" ({finding.Confidence.ToString().ToLowerInvariant()})";
        var who = finding.Frame is null ? $"module {finding.Module}" : $"{finding.Frame} {finding.Id}";
        Wrap(writer, $"{number}. {who}: {KindWords.Title(finding.Kind)}{sure}", 0);
        Wrap(writer, finding.Message, Indent);
        var start = parts[finding.Part].StartUs;
        var part = parts.Count > 1 ? $" of part {finding.Part + 1}" : "";
        Wrap(writer, $"{At(finding.FirstUs - start)}{(finding.LastUs > finding.FirstUs ? $" to {At(finding.LastUs - start)}" : "")}{part}; see {finding.Span.File}:{finding.Span.Line}", Indent);
        Wrap(writer, finding.ComplainsUs is { } after ? $"a receiver complains {(after > 0 ? $"after {Words.Time(after)}" : "at once")}; it needs {finding.Recovers}" : "a typical receiver does not complain by this alone", Indent);
    }

    private static string How(AuditedBus bus) => bus.How switch
    {
        BusPairing.Name => $"'{bus.CaptureName}' of the capture, by its name",
        BusPairing.Identifiers => $"'{bus.CaptureName}' of the capture, by its identifiers",
        BusPairing.OnlyOne => $"'{bus.CaptureName}', the capture's only bus; no identifier speaks for it",
        _ => "not in the capture",
    };

    private static string At(long us) => string.Create(CultureInfo.InvariantCulture, $"{us / UsPerSecond:0.000000} s");

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
