using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Wire;

namespace Locum.Binding;

internal static class ReceiveBinder
{
    public const int Most = 32;

    public static void Bind(MappingReader module, Bound bound)
    {
        var entries = module.Named("receives", "received frames");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a module listens to at most {Most} frames", "leave out frames that nothing refers to");
        foreach (var entry in entries.Take(Most))
            if (BindOne(entry, bound) is { } received)
                bound.Receives.Add(received);
        bound.CheckClashes(bound.Receives.Select(r => (r.Name, r.Span)), "received frames");
    }

    private static ReceivedFrame? BindOne(MappingEntry entry, Bound bound)
    {
        var diagnostics = bound.Diagnostics;
        var name = Scalars.Name(entry.Key, diagnostics, "a received frame") ?? entry.Key.Value;
        if (entry.Value is not MappingNode)
        {
            _ = new MappingReader(entry.Value, diagnostics, "a received frame");
            return null;
        }
        var reader = new MappingReader(entry.Value, diagnostics, "a received frame");
        var bus = FrameBinder.BindBus(reader, bound);
        var (id, mask) = BindId(reader, diagnostics);
        var timeout = Scalars.TimeUs(reader.Optional("timeout"), diagnostics, "the timeout", 100, InputBinder.LongestDelayUs);
        var fields = FieldBinder.BindReceived(reader, bound);
        reader.Done();
        if (bound.Inputs.Any(i => i.Name == name))
            diagnostics.Add(Codes.NameClash, entry.Key.Span, $"'{name}' is an input already", "choose another name for one of them");
        return new ReceivedFrame
        {
            Name = name,
            Bus = Math.Max(bus, 0),
            Id = id,
            Mask = mask,
            Length = fields.SelectMany(f => f.Positions()).Where(p => p is >= 0 and < FdLengths.Most * 8).Select(p => (p / 8) + 1).DefaultIfEmpty(0).Max(),
            TimeoutUs = timeout,
            Fields = fields,
            Span = entry.Key.Span,
        };
    }

    // "id: any" listens to all traffic: bus activity.
    private static (CanId Id, uint Mask) BindId(MappingReader reader, DiagnosticBag diagnostics)
    {
        if (reader.Optional("id") is ScalarNode { Value: "any" })
        {
            var kind = Scalars.Word(reader.Optional("id kind"), diagnostics, "kind of identifier", FrameBinder.IdKinds) ?? false;
            return (new CanId(0, kind), 0);
        }
        var id = FrameBinder.BindId(reader, diagnostics);
        var all = id.Extended ? CanId.MaxExtended : CanId.MaxStandard;
        var mask = Scalars.Integer(reader.Optional("mask"), diagnostics, "the mask", 0, all);
        return (id, (uint)(mask ?? all));
    }
}
