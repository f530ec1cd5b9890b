using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Binding;

/// <summary>Bus-offs and resets in a stimulus.</summary>
internal static class EventBinder
{
    public const int Most = 256;

    private static readonly Dictionary<string, ResetCause> s_causes = new(StringComparer.Ordinal)
    {
        ["power"] = ResetCause.Power,
        ["watchdog"] = ResetCause.Watchdog,
        ["brown-out"] = ResetCause.BrownOut,
    };

    public static IReadOnlyList<BusOff> BusOffs(MappingReader reader, IReadOnlyList<string>? buses, DiagnosticBag diagnostics)
    {
        var found = new List<BusOff>();
        foreach (var (key, value) in reader.Named("bus off", "buses"))
        {
            StimulusBinder.CheckName(key.Value, key.Span, buses, "bus", diagnostics);
            var last = -1L;
            foreach (var item in StimulusBinder.Items(value))
            {
                if (StimulusBinder.Time(item, "the time", diagnostics) is not { } at)
                    continue;
                if (at <= last)
                    diagnostics.Add(Codes.StimulusOrder, item.Span, $"{at} µs is not after the one before, at {last} µs", "put them in order of time");
                last = at;
                found.Add(new BusOff(at, key.Value));
            }
        }
        if (found.Count > Most)
            diagnostics.Add(Codes.TooMany, reader.SpanOf("bus off"), $"a stimulus has at most {Most} bus-offs", "leave some out");
        return [.. found.OrderBy(b => b.AtUs).Take(Most)];
    }

    public static IReadOnlyList<Reset> Resets(MappingReader reader, DiagnosticBag diagnostics)
    {
        var found = new List<Reset>();
        var last = 0L;
        foreach (var item in StimulusBinder.Items(reader.Optional("resets")))
        {
            var reset = new MappingReader(item, diagnostics, "a reset");
            var atNode = reset.Required("at", "say when, such as 'at: 0.5 s'");
            var at = StimulusBinder.Time(atNode, "the time", diagnostics);
            var cause = Scalars.Word(reset.Required("cause", "say 'cause: watchdog', 'brown-out' or 'power'"), diagnostics, "cause of a reset", s_causes);
            reset.Done();
            if (at is null || cause is null)
                continue;
            if (at <= last)
                diagnostics.Add(Codes.StimulusOrder, atNode!.Span, $"{at} µs is not after {last} µs", "put the resets in order of time, after power-on");
            else
                found.Add(new Reset(at.Value, cause.Value));
            last = at.Value;
        }
        if (found.Count > Most)
            diagnostics.Add(Codes.TooMany, reader.SpanOf("resets"), $"a stimulus has at most {Most} resets", "leave some out");
        return [.. found.Take(Most)];
    }
}
