using System.Text.Json;
using Locum.Reporting;
using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>Bit timings for programs.</summary>
public static class TimingJson
{
    public static void Write(Stream stream, IReadOnlyList<TimingLine> lines)
    {
        using var json = new Utf8JsonWriter(stream, JsonStyle.Options);
        json.WriteStartObject();
        json.WriteStartArray("timings");
        foreach (var line in lines)
            Write(json, line);
        json.WriteEndArray();
        json.WriteEndObject();
        json.Flush();
        stream.WriteByte((byte)'\n');
    }

    private static void Write(Utf8JsonWriter json, TimingLine line)
    {
        json.WriteStartObject();
        json.WriteString("title", JsonStyle.WellFormed(line.Title));
        json.WriteString("controller", line.Controller.Name);
        json.WriteNumber("clockHz", line.ClockHz);
        json.WriteNumber("tolerancePpm", line.TolerancePpm);
        json.WriteBoolean("holds", line.Holds);
        if (line.Choice is { } choice)
        {
            Phase(json, "nominal", choice.Nominal, line.Request.Rate, line.Request.SamplePoint, line.Others(false));
            if (choice.Data is { } data)
            {
                Phase(json, "data", data, line.Request.DataRate!.Value, line.Request.DataSamplePoint, line.Others(true));
                json.WriteBoolean("compensationNeeded", DelayCompensation.IsNeeded(data, line.Request.LoopDelayNs));
                if (choice.Compensation is { } on)
                    json.WriteNumber("compensationOffset", on.Offset);
            }
            json.WriteStartArray("registers");
            foreach (var word in line.Controller.Encode(choice))
            {
                json.WriteStartObject();
                json.WriteString("name", word.Name);
                json.WriteNumber("value", word.Value);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteNumber("allowedPpm", Math.Round(choice.AllowedPpm, 1));
            json.WriteNumber("leftForOscillatorPpm", Math.Round(choice.LeftForOscillatorPpm(line.Request), 1));
            json.WriteStartArray("conditions");
            foreach (var condition in choice.Conditions)
            {
                json.WriteStartObject();
                json.WriteString("name", condition.Name);
                json.WriteString("formula", condition.Formula);
                json.WriteNumber("ppm", Math.Round(condition.Ppm, 1));
                json.WriteEndObject();
            }
            json.WriteEndArray();
        }
        json.WriteEndObject();
    }

    private static void Phase(Utf8JsonWriter json, string name, BitTiming timing, long rate, int point, IReadOnlyList<(BitTiming Timing, string Why)> others)
    {
        json.WriteStartObject(name);
        json.WriteNumber("rate", rate);
        json.WriteNumber("wantedSamplePoint", point / 1000.0);
        Bits(json, timing, rate);
        json.WriteStartArray("notTaken");
        foreach (var (other, why) in others)
        {
            json.WriteStartObject();
            Bits(json, other, rate);
            json.WriteString("why", why);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Bits(Utf8JsonWriter json, BitTiming timing, long rate)
    {
        json.WriteNumber("brp", timing.Brp);
        json.WriteNumber("tseg1", timing.Tseg1);
        json.WriteNumber("tseg2", timing.Tseg2);
        json.WriteNumber("sjw", timing.Sjw);
        json.WriteNumber("samplePoint", Math.Round(timing.SamplePointPermille / 1000, 5));
        json.WriteNumber("rateErrorPpm", Math.Round(timing.RateErrorPpm(rate), 2));
    }
}
