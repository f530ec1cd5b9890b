using System.Text.Json;
using Locum.Reporting;

namespace Locum.Drafting;

/// <summary>What a draft rests on, for programs.</summary>
public static class DraftJson
{
    /// <summary>
    /// Writes {module, recordedUs, start: {seen, part, timeUs, silenceUs}, frames: [{name, bus, id, extended, count}], facts:
    /// [{subject, what, says, confidence, tested, hits, distinct, log10Chance, unit, note}], unexplained: [{subject, id, bits, why}],
    /// description?}; UTF-8, "\n".
    /// </summary>
    /// <param name="stream">Where to.</param>
    /// <param name="draft">The draft.</param>
    /// <param name="withText">Whether the description itself is written.</param>
    public static void Write(Stream stream, Draft draft, bool withText)
    {
        using (var json = new Utf8JsonWriter(stream, JsonStyle.Options))
        {
            json.WriteStartObject();
            json.WriteString("module", JsonStyle.WellFormed(draft.Name));
            json.WriteNumber("recordedUs", draft.Findings.Recording.DurationUs);
            WriteStart(json, draft);
            WriteFrames(json, draft);
            json.WriteStartArray("facts");
            foreach (var fact in draft.Facts)
                WriteFact(json, fact);
            json.WriteEndArray();
            json.WriteStartArray("unexplained");
            foreach (var open in draft.Unexplained)
            {
                json.WriteStartObject();
                json.WriteString("subject", open.Subject);
                json.WriteString("id", open.Id);
                json.WriteString("bits", open.Bits);
                json.WriteString("why", open.Why);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            if (withText && draft.Text is { } text)
                json.WriteString("description", JsonStyle.WellFormed(text));
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
    }

    private static void WriteStart(Utf8JsonWriter json, Draft draft)
    {
        var start = draft.Findings.Start;
        json.WriteStartObject("start");
        json.WriteBoolean("seen", start.Seen);
        json.WriteNumber("part", start.Part);
        json.WriteNumber("timeUs", start.TimeUs);
        json.WriteNumber("silenceUs", start.SilenceUs);
        json.WriteEndObject();
    }

    private static void WriteFrames(Utf8JsonWriter json, Draft draft)
    {
        json.WriteStartArray("frames");
        for (int i = 0; i < draft.FrameNames.Count; i++)
        {
            var series = draft.Findings.Frames[i].Series;
            json.WriteStartObject();
            json.WriteString("name", draft.FrameNames[i]);
            json.WriteString("bus", JsonStyle.WellFormed(series.BusName));
            json.WriteString("id", series.Id.ToString());
            json.WriteBoolean("extended", series.Id.Extended);
            json.WriteNumber("count", series.Count);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void WriteFact(Utf8JsonWriter json, Fact fact)
    {
        json.WriteStartObject();
        json.WriteString("subject", JsonStyle.WellFormed(fact.Subject));
        json.WriteString("what", fact.What);
        json.WriteString("says", fact.Says);
        json.WriteString("confidence", fact.Word);
        json.WriteNumber("tested", fact.Evidence.Tested);
        json.WriteNumber("hits", fact.Evidence.Hits);
        json.WriteNumber("distinct", fact.Evidence.Distinct);
        json.WriteNumber("log10Chance", Math.Round(Math.Max(fact.Evidence.Log10Chance, -1e6), 1));
        json.WriteString("unit", fact.Unit);
        json.WriteString("note", fact.Note);
        json.WriteEndObject();
    }
}
