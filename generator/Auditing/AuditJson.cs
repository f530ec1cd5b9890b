using System.Text.Json;
using Locum.Capture;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>An audit for programs.</summary>
public static class AuditJson
{
    /// <summary>
    /// Writes {capture, judgedFrames, buses: [{name, captureBus?, by}], parts: [{startUs, endUs}], tolerance: {stepUs, stampUs,
    /// instantUs, periodShare, clockShare, reactionUs}, assumption, findings: [{kind, module, frame?, id?, message, confidence,
    /// part, firstUs, lastUs, count, complainsAfterUs?, recovers?, file, line, column}], notJudged: [text]}; worst first;
    /// UTF-8, "\n". Times are the capture's own.
    /// </summary>
    public static void Write(Stream stream, string capture, AuditResult result)
    {
        using (var json = new Utf8JsonWriter(stream, JsonStyle.Options))
        {
            json.WriteStartObject();
            json.WriteString("capture", JsonStyle.WellFormed(capture));
            json.WriteNumber("judgedFrames", result.Judged);
            json.WriteStartArray("buses");
            foreach (var bus in result.Buses)
                WriteBus(json, bus);
            json.WriteEndArray();
            json.WriteStartArray("parts");
            foreach (var part in result.Parts)
            {
                json.WriteStartObject();
                json.WriteNumber("startUs", part.StartUs);
                json.WriteNumber("endUs", part.EndUs);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            WriteTolerance(json, result.Tolerance);
            json.WriteString("assumption", TypicalReceiver.Assumption);
            json.WriteStartArray("findings");
            foreach (var finding in result.Findings)
                WriteFinding(json, finding);
            json.WriteEndArray();
            json.WriteStartArray("notJudged");
            foreach (var what in result.NotJudged)
                json.WriteStringValue(JsonStyle.WellFormed(what));
            json.WriteEndArray();
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
    }

    private static void WriteBus(Utf8JsonWriter json, AuditedBus bus)
    {
        json.WriteStartObject();
        json.WriteString("name", JsonStyle.WellFormed(bus.Name));
        if (bus.CaptureName is { } name)
            json.WriteString("captureBus", JsonStyle.WellFormed(name));
        json.WriteString("by", bus.How switch
        {
            BusPairing.Name => "name",
            BusPairing.Identifiers => "identifiers",
            BusPairing.OnlyOne => "only-one",
            _ => "none",
        });
        json.WriteEndObject();
    }

    private static void WriteTolerance(Utf8JsonWriter json, Tolerance tolerance)
    {
        json.WriteStartObject("tolerance");
        json.WriteNumber("stepUs", tolerance.StepUs);
        json.WriteNumber("stampUs", tolerance.StampUs);
        json.WriteNumber("instantUs", tolerance.InstantUs);
        json.WriteNumber("periodShare", Tolerance.PeriodShare);
        json.WriteNumber("clockShare", Tolerance.ClockShare);
        json.WriteNumber("reactionUs", Tolerance.ReactionUs);
        json.WriteEndObject();
    }

    private static void WriteFinding(Utf8JsonWriter json, Finding finding)
    {
        json.WriteStartObject();
        json.WriteString("kind", KindWords.Word(finding.Kind));
        json.WriteString("module", JsonStyle.WellFormed(finding.Module));
        if (finding.Frame is { } frame)
            json.WriteString("frame", JsonStyle.WellFormed(frame));
        if (finding.Id is { } id)
            json.WriteString("id", id);
        json.WriteString("message", JsonStyle.WellFormed(finding.Message));
        json.WriteString("confidence", finding.Confidence.ToString().ToLowerInvariant());
        json.WriteNumber("part", finding.Part + 1);
        json.WriteNumber("firstUs", finding.FirstUs);
        json.WriteNumber("lastUs", finding.LastUs);
        json.WriteNumber("count", finding.Count);
        if (finding.ComplainsUs is { } after)
            json.WriteNumber("complainsAfterUs", after);
        if (finding.Recovers is { } recovers)
            json.WriteString("recovers", recovers);
        json.WriteString("file", JsonStyle.WellFormed(finding.Span.File));
        json.WriteNumber("line", finding.Span.Line);
        json.WriteNumber("column", finding.Span.Column);
        json.WriteEndObject();
    }
}
