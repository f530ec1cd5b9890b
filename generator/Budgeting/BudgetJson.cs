using System.Text.Json;
using Locum.Reporting;

namespace Locum.Budgeting;

/// <summary>Budgets for programs. Times in µs.</summary>
public static class BudgetJson
{
    public static void Write(Stream stream, IReadOnlyList<BusBudget> buses)
    {
        using var json = new Utf8JsonWriter(stream, JsonStyle.Options);
        json.WriteStartObject();
        json.WriteStartArray("buses");
        foreach (var bus in buses)
            Write(json, bus);
        json.WriteEndArray();
        json.WriteEndObject();
        json.Flush();
        stream.WriteByte((byte)'\n');
    }

    private static void Write(Utf8JsonWriter json, BusBudget bus)
    {
        json.WriteStartObject();
        json.WriteString("name", JsonStyle.WellFormed(bus.Name));
        json.WriteNumber("rate", bus.Rate);
        if (bus.DataRate is { } fast)
            json.WriteNumber("dataRate", fast);
        json.WriteBoolean("holds", bus.Holds);
        json.WriteBoolean("othersKnown", bus.KnowsOthers);
        json.WriteNumber("meanLoad", Math.Round(bus.MeanLoad, 5));
        json.WriteNumber("worstLoad", Math.Round(bus.WorstLoad, 5));
        json.WriteNumber("ownMeanLoad", Math.Round(bus.OwnMeanLoad, 5));
        json.WriteNumber("ownWorstLoad", Math.Round(bus.OwnWorstLoad, 5));
        json.WriteStartArray("frames");
        foreach (var response in bus.Responses)
            Write(json, response);
        json.WriteEndArray();
        json.WriteStartArray("offsets");
        foreach (var group in bus.Groups)
            Write(json, group);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, Response response)
    {
        json.WriteStartObject();
        json.WriteString("name", JsonStyle.WellFormed(response.Stream.Name));
        json.WriteNumber("id", response.Stream.Id.Value);
        json.WriteBoolean("extended", response.Stream.Id.Extended);
        json.WriteString("basis", response.Stream.Basis.ToString().ToLowerInvariant());
        json.WriteNumber("periodUs", response.Stream.PeriodUs);
        json.WriteNumber("jitterUs", response.Stream.JitterUs);
        json.WriteNumber("deadlineUs", response.Stream.DeadlineUs);
        json.WriteNumber("wireUs", response.Stream.WireUs);
        json.WriteNumber("meanSlotUs", Math.Round(response.Stream.MeanSlotUs, 1));
        if (response.WorstUs is { } worst)
            json.WriteNumber("withinUs", worst);
        else
            json.WriteNull("withinUs");
        json.WriteNumber("blockingUs", response.BlockingUs);
        json.WriteNumber("mailboxWaitUs", response.InversionUs);
        json.WriteNumber("instances", response.Instances);
        json.WriteBoolean("meets", response.Meets);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, OffsetGroup group)
    {
        json.WriteStartObject();
        json.WriteString("board", JsonStyle.WellFormed(group.Board));
        json.WriteNumber("peakUs", group.Before.PeakUs);
        json.WriteNumber("betterPeakUs", group.After.PeakUs);
        json.WriteNumber("longestWaitUs", group.Before.WorstUs);
        json.WriteNumber("betterLongestWaitUs", group.After.WorstUs);
        json.WriteNumber("leastUs", group.LeastUs);
        json.WriteStartArray("changes");
        foreach (var (frame, offset) in group.Changes)
        {
            json.WriteStartObject();
            json.WriteString("frame", JsonStyle.WellFormed(frame.Sender));
            json.WriteNumber("offsetUs", frame.Frame.OffsetUs);
            json.WriteNumber("betterOffsetUs", offset);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }
}
