using System.Text.Json;
using Locum.Reporting;

namespace Locum.Reviewing;

/// <summary>A review for programs.</summary>
public static class ReviewJson
{
    /// <summary>Writes {changes: [{kind, path, label?, before?, after?, hazard}], effects: [{what, before, after}]}; UTF-8, "\n".</summary>
    public static void Write(Stream stream, Review review)
    {
        using (var json = new Utf8JsonWriter(stream, JsonStyle.Options))
        {
            json.WriteStartObject();
            json.WriteStartArray("changes");
            foreach (var change in review.Changes)
                WriteChange(json, change);
            json.WriteEndArray();
            json.WriteStartArray("effects");
            foreach (var effect in review.Effects)
            {
                json.WriteStartObject();
                json.WriteString("what", JsonStyle.WellFormed(effect.What));
                json.WriteString("before", effect.Before);
                json.WriteString("after", effect.After);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
    }

    private static void WriteChange(Utf8JsonWriter json, Change change)
    {
        json.WriteStartObject();
        json.WriteString("kind", change.Kind.ToString().ToLowerInvariant());
        json.WriteStartArray("path");
        foreach (var part in change.Path)
            json.WriteStringValue(JsonStyle.WellFormed(part));
        json.WriteEndArray();
        if (change.Label.Length > 0)
            json.WriteString("label", JsonStyle.WellFormed(change.Label));
        if (change.Before is { } before)
            json.WriteString("before", JsonStyle.WellFormed(before));
        if (change.After is { } after)
            json.WriteString("after", JsonStyle.WellFormed(after));
        json.WriteBoolean("hazard", change.Hazard);
        json.WriteEndObject();
    }
}
