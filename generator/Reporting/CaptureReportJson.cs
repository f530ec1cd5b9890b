using System.Text.Json;
using Locum.Capture;

namespace Locum.Reporting;

/// <summary>Captures for programs.</summary>
public static class CaptureReportJson
{
    /// <summary>Writes an array with an object per capture. The stream stays open.</summary>
    public static void Write(Stream output, IReadOnlyList<CaptureReport> reports)
    {
        using (var json = new Utf8JsonWriter(output, JsonStyle.Options))
        {
            json.WriteStartArray();
            foreach (var report in reports)
                One(json, report);
            json.WriteEndArray();
        }

        output.WriteByte((byte)'\n');
    }

    private static void One(Utf8JsonWriter json, CaptureReport report)
    {
        var summary = report.Summary;
        json.WriteStartObject();
        json.WriteString("path", summary.Path);
        json.WriteString("format", CaptureFormatWords.Of(summary.Format));
        json.WriteString("form", summary.FormatText);
        json.WriteString("counted", summary.ItemWord);
        json.WriteNumber("items", summary.Items);
        json.WriteNumber("left_out", summary.LeftOut);
        json.WriteNumber("frames", summary.Frames);
        json.WriteNumber("remotes", summary.Remotes);
        json.WriteNumber("errors", summary.Errors);
        json.WriteBoolean("has_time", summary.HasTime);
        json.WriteString("time", summary.TimeText);
        json.WriteNumber("first_ns", summary.FirstNs);
        json.WriteNumber("last_ns", summary.LastNs);
        Columns(json, summary);
        Buses(json, summary);
        Identifiers(json, report);
        Oddities(json, summary);
        json.WriteEndObject();
    }

    private static void Columns(Utf8JsonWriter json, CaptureSummary summary)
    {
        json.WriteStartArray("columns");
        foreach (var column in summary.Columns)
        {
            json.WriteStartObject();
            json.WriteNumber("number", column.Number);
            json.WriteString("header", column.Header);
            json.WriteString("role", column.Role);
            json.WriteString("sure", column.Sure);
            json.WriteString("reason", column.Reason);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Buses(Utf8JsonWriter json, CaptureSummary summary)
    {
        json.WriteStartArray("buses");
        foreach (var bus in summary.Buses)
        {
            json.WriteStartObject();
            json.WriteString("name", bus.Name);
            json.WriteNumber("frames", bus.Frames);
            json.WriteNumber("remotes", bus.Remotes);
            json.WriteNumber("errors", bus.Errors);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Identifiers(Utf8JsonWriter json, CaptureReport report)
    {
        json.WriteStartArray("identifiers");
        foreach (var one in report.Identifiers)
        {
            json.WriteStartObject();
            json.WriteString("bus", report.Summary.Buses[one.Bus].Name);
            json.WriteString("id", one.Id.ToString());
            json.WriteBoolean("extended", one.Id.Extended);
            json.WriteNumber("frames", one.Frames);
            json.WriteNumber("remotes", one.Remotes);
            json.WriteNumber("shortest", one.Shortest);
            json.WriteNumber("longest", one.Longest);
            json.WriteNumber("first_ns", one.FirstNs);
            json.WriteNumber("last_ns", one.LastNs);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Oddities(Utf8JsonWriter json, CaptureSummary summary)
    {
        json.WriteStartArray("oddities");
        foreach (var oddity in summary.Oddities)
        {
            json.WriteStartObject();
            json.WriteString("kind", oddity.Facts.Word);
            json.WriteNumber("count", oddity.Count);
            json.WriteNumber("first", oddity.First);
            json.WriteString("effect", oddity.Facts.Effect switch { OddityEffect.Kept => "kept", OddityEffect.LeftOut => "left out", _ => "beside" });
            json.WriteString("what", oddity.Facts.What);
            json.WriteString("done", oddity.Facts.Done);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }
}
