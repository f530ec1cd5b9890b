using System.Text.Json;
using Locum.Inference;
using Locum.Reporting;

namespace Locum.Comparing;

/// <summary>A comparison for programs.</summary>
public static class ComparisonJson
{
    /// <summary>
    /// Writes {with: [{capture, seconds}], without: [same], buses: [{name, captures: [{bus?, by}]}], notCompared: [bus],
    /// differences: [{kind, bus, id, extended, with, without, present, of, periodUs?, expected?, what?, confidence, log10Chance,
    /// group?, priority?, parameterGroup?, source?}], tooRare: [same], groups: [{group, bus, ids, why, confidence}],
    /// sources: [{bus, address, gone, missing, all, after}]}; most important first; UTF-8, "\n".
    /// </summary>
    public static void Write(Stream stream, Comparison comparison)
    {
        using (var json = new Utf8JsonWriter(stream, JsonStyle.Options))
        {
            json.WriteStartObject();
            WriteCaptures(json, "with", comparison.With);
            WriteCaptures(json, "without", comparison.Without);
            WriteBuses(json, comparison.Buses);
            json.WriteStartArray("notCompared");
            foreach (var bus in comparison.OneSided)
                json.WriteStringValue(JsonStyle.WellFormed(bus));
            json.WriteEndArray();
            WriteDifferences(json, "differences", comparison.Differences);
            WriteDifferences(json, "tooRare", comparison.TooRare);
            WriteGroups(json, comparison.Groups);
            WriteSources(json, comparison.Addresses);
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
    }

    private static void WriteCaptures(Utf8JsonWriter json, string key, IReadOnlyList<NamedCapture> captures)
    {
        json.WriteStartArray(key);
        foreach (var capture in captures)
        {
            json.WriteStartObject();
            json.WriteString("capture", JsonStyle.WellFormed(capture.Path));
            json.WriteNumber("seconds", capture.Recording.DurationUs / 1e6);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void WriteBuses(Utf8JsonWriter json, IReadOnlyList<BusLine> buses)
    {
        json.WriteStartArray("buses");
        foreach (var bus in buses)
        {
            json.WriteStartObject();
            json.WriteString("name", JsonStyle.WellFormed(bus.Name));
            json.WriteStartArray("captures");
            for (var i = 0; i < bus.Numbers.Count; i++)
            {
                json.WriteStartObject();
                if (bus.Numbers[i] is { } number)
                    json.WriteNumber("bus", number);
                json.WriteString("by", bus.Numbers[i] is null ? "none" : bus.How[i].ToString().ToLowerInvariant());
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void WriteDifferences(Utf8JsonWriter json, string key, IReadOnlyList<Difference> differences)
    {
        json.WriteStartArray(key);
        foreach (var difference in differences)
        {
            json.WriteStartObject();
            json.WriteString("kind", difference.Kind.ToString().ToLowerInvariant());
            json.WriteString("bus", JsonStyle.WellFormed(difference.Bus));
            json.WriteString("id", difference.Id.ToString());
            json.WriteBoolean("extended", difference.Id.Extended);
            json.WriteNumber("with", difference.With);
            json.WriteNumber("without", difference.Without);
            json.WriteNumber("present", difference.Present);
            json.WriteNumber("of", difference.Of);
            if (difference.PeriodUs is { } period)
                json.WriteNumber("periodUs", Math.Round(period, 1));
            if (difference.Kind is DifferenceKind.Missing or DifferenceKind.Appeared)
                json.WriteNumber("expected", Math.Round(difference.Expected, 2));
            else
                json.WriteString("what", difference.What);
            json.WriteString("confidence", Word(difference.Confidence));
            json.WriteNumber("log10Chance", Math.Round(difference.Evidence.Log10Chance, 2));
            if (difference.Group is { } group)
                json.WriteString("group", group.ToString());
            if (difference.Id.Extended)
            {
                var (priority, number, address) = SourceAddress.Parts(difference.Id.Value);
                json.WriteNumber("priority", priority);
                json.WriteNumber("parameterGroup", number);
                json.WriteNumber("source", address);
            }
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void WriteGroups(Utf8JsonWriter json, IReadOnlyList<SenderGroup> groups)
    {
        json.WriteStartArray("groups");
        foreach (var group in groups)
        {
            json.WriteStartObject();
            json.WriteString("group", group.Letter.ToString());
            json.WriteString("bus", JsonStyle.WellFormed(group.Bus));
            json.WriteStartArray("ids");
            foreach (var id in group.Ids)
                json.WriteStringValue(id.ToString());
            json.WriteEndArray();
            json.WriteString("why", group.Why);
            json.WriteString("confidence", Word(group.Evidence.Confidence));
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void WriteSources(Utf8JsonWriter json, IReadOnlyList<SourceAddress> addresses)
    {
        json.WriteStartArray("sources");
        foreach (var address in addresses)
        {
            json.WriteStartObject();
            json.WriteString("bus", JsonStyle.WellFormed(address.Bus));
            json.WriteNumber("address", address.Address);
            json.WriteBoolean("gone", address.IsGone);
            json.WriteNumber("missing", address.Missing.Count);
            json.WriteNumber("all", address.All);
            json.WriteNumber("after", address.After);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static string Word(Confidence confidence) => confidence.ToString().ToLowerInvariant();
}
