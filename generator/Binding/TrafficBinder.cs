using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Wire;

namespace Locum.Binding;

/// <summary>Frames of other nodes in a stimulus.</summary>
internal static class TrafficBinder
{
    public static IReadOnlyList<Traffic> Bind(MappingReader reader, IReadOnlyList<string>? buses, long end, DiagnosticBag diagnostics)
    {
        var traffic = new List<Traffic>();
        foreach (var (key, value) in reader.Named("traffic", "buses"))
        {
            StimulusBinder.CheckName(key.Value, key.Span, buses, "bus", diagnostics);
            foreach (var item in StimulusBinder.Items(value))
                BindOne(item, key.Value, end, traffic, diagnostics);
        }
        return traffic;
    }

    private static void BindOne(SyntaxNode item, string bus, long end, List<Traffic> traffic, DiagnosticBag diagnostics)
    {
        var frame = new MappingReader(item, diagnostics, "another node's frame");
        var id = FrameBinder.BindId(frame, diagnostics);
        var format = FormatBinder.Bind(frame, null, diagnostics);
        var data = Data(frame, format, diagnostics);
        if (frame.Has("at"))
        {
            var at = StimulusBinder.Time(frame.Optional("at"), "the time", diagnostics);
            frame.Done();
            if (data is not null && id.IsValid && at is not null)
                traffic.Add(new Traffic(bus, id, data, at.Value, 1, at.Value + 1) { Format = format });
            return;
        }
        var every = Scalars.TimeUs(frame.Required("every", "give the period, or 'at' for a single frame"), diagnostics, "the period", 50, StimulusBinder.LongestUs);
        var first = StimulusBinder.Time(frame.Optional("offset"), "the offset", diagnostics) ?? 0;
        var until = StimulusBinder.Time(frame.Optional("until"), "the end", diagnostics) ?? end;
        var changes = BindChanges(frame, format, diagnostics);
        frame.Done();
        if (data is null || !id.IsValid || every is null)
            return;
        // Each payload is a cyclic frame of its own that ends where the next one begins; the phase stays.
        foreach (var (from, payload) in changes.Prepend((From: 0L, Data: data)))
        {
            var next = changes.Select(c => c.From).Where(f => f > from).DefaultIfEmpty(long.MaxValue).Min();
            var release = from <= first ? first : first + ((from - first + every.Value - 1) / every.Value * every.Value);
            var stop = Math.Min(until, next);
            if (release < stop)
                traffic.Add(new Traffic(bus, id, payload, release, every.Value, stop) { Format = format });
        }
    }

    private static List<(long From, byte[] Data)> BindChanges(MappingReader frame, FrameFormat format, DiagnosticBag diagnostics)
    {
        var changes = new List<(long From, byte[] Data)>();
        foreach (var item in StimulusBinder.Items(frame.Optional("changes")))
        {
            var change = new MappingReader(item, diagnostics, "a change");
            var atNode = change.Required("at", "say when, such as 'at: 0.5 s'");
            var at = StimulusBinder.Time(atNode, "the time", diagnostics);
            var data = Data(change, format, diagnostics);
            change.Done();
            if (at is null || data is null)
                continue;
            if (at <= changes.Select(c => c.From).DefaultIfEmpty(0).Max())
                diagnostics.Add(Codes.StimulusOrder, atNode!.Span, $"{at} µs is not after the change before", "put the changes in order of time, after 0");
            else
                changes.Add((at.Value, data));
        }
        return changes;
    }

    private static byte[]? Data(MappingReader reader, FrameFormat format, DiagnosticBag diagnostics)
    {
        var node = reader.Optional("data");
        var data = node is null ? [] : Scalars.Bytes(node, diagnostics, "the data");
        return data is null || !FormatBinder.CheckLength(data.Length, format, node?.Span ?? reader.Span, diagnostics) ? null : data;
    }
}
