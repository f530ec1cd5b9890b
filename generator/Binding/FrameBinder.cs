using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Wire;

namespace Locum.Binding;

internal static class FrameBinder
{
    public const int Most = 200;

    private const int Longest = 8;

    internal static readonly Dictionary<string, bool> IdKinds = new(StringComparer.Ordinal) { ["11 bit"] = false, ["29 bit"] = true };

    public static IReadOnlyList<Frame> Bind(MappingReader module, Bound bound)
    {
        var entries = module.Named("frames", "frames");
        if (entries.Count is 0)
            bound.Diagnostics.Add(Codes.MissingKey, module.SpanOf("frames").First(), "a description needs at least one frame", "describe it under 'frames:'");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a module has at most {Most} frames", "split the module in two");
        bound.FrameNames.AddRange(entries.Take(Most).Select(e => e.Key.Value));
        var frames = entries.Take(Most).Select(e => BindFrame(e, bound)).OfType<Frame>().ToList();
        bound.CheckClashes(frames.Select(f => (f.Name, f.Span)), "frames");
        return frames;
    }

    private static Frame? BindFrame(MappingEntry entry, Bound bound)
    {
        var diagnostics = bound.Diagnostics;
        var name = Scalars.Name(entry.Key, diagnostics, "a frame") ?? entry.Key.Value;
        var reader = new MappingReader(entry.Value, diagnostics, "a frame");
        if (entry.Value is not MappingNode)
            return null;
        var bus = BindBus(reader, bound);
        var id = BindId(reader, diagnostics);
        var format = FormatBinder.Bind(reader, bus < 0 ? null : bound.Buses.ElementAtOrDefault(bus), diagnostics);
        var length = BindLength(reader, format, diagnostics);
        var offset = Scalars.TimeUs(reader.Optional("offset"), diagnostics, "the offset", 0, InputBinder.LongestDelayUs) ?? 0;
        var modes = BindModes(reader, bound);
        var (period, byMode) = SendingBinder.BindPeriod(reader, modes, bound);
        bound.SteadyPeriodUs = byMode.Count is 0 && !reader.Has("burst") && !reader.Has("on") ? period : 0;
        var baseBytes = BindBase(reader, length, diagnostics);
        var fields = FieldBinder.Bind(reader, name, new FormulaContext(name, id, baseBytes, [], reader.Has("pages") || reader.Has("payloads")), modes, bound);
        var (pages, hold) = PageBinder.Bind(reader, new FormulaContext(name, id, baseBytes, fields, false), modes, bound);
        var burst = SendingBinder.BindBurst(reader, bound);
        var events = SendingBinder.BindEvents(reader, fields, bound);
        var (protection, protectionFields) = ProtectBinder.Bind(reader, name, length, fields, bound);
        reader.Done();
        return new Frame
        {
            Name = name,
            Bus = bus,
            Id = id,
            Format = format,
            Length = length,
            PeriodUs = period,
            PeriodByMode = byMode,
            Burst = burst,
            Events = events,
            Pages = pages,
            HoldLastPage = hold,
            OffsetUs = offset,
            Modes = modes,
            Base = baseBytes,
            Fields = [.. fields, .. protectionFields],
            ProtectionFields = protectionFields.Count,
            Protection = protection,
            Span = entry.Key.Span,
            IdSpan = reader.ValueSpan("id"),
        };
    }

    internal static int BindBus(MappingReader reader, Bound bound)
    {
        var node = reader.Optional("bus");
        if (node is null && bound.Buses.Count is 1)
            return 0;
        if (node is null)
        {
            reader.Required("bus", "name the bus the frame is sent on");
            return -1;
        }
        return Scalars.Text(node, bound.Diagnostics, "the bus") is { } name
            ? bound.Find([.. bound.Buses.Select(b => b.Name)], name, node.Span, Codes.UnknownBus, "bus") : -1;
    }

    /// <summary>Identifier and its kind; an invalid one (and a finding) where it is missing or does not fit.</summary>
    internal static CanId BindId(MappingReader reader, DiagnosticBag diagnostics)
    {
        var node = reader.Required("id", "give the identifier, such as 'id: 0x2D1'");
        var value = Scalars.Integer(node, diagnostics, "the identifier", 0, 0x1FFF_FFFF);
        var kind = Scalars.Word(reader.Optional("id kind"), diagnostics, "kind of identifier", IdKinds);
        var extended = kind ?? value > 0x7FF;
        if (!extended && value > 0x7FF)
            diagnostics.Add(Codes.BadIdentifier, node!.Span, $"0x{value:X} has more than 11 bits", "write 'id kind: 29 bit', or correct the identifier");
        return new CanId((uint)(value ?? uint.MaxValue), extended);
    }

    private static int BindLength(MappingReader reader, FrameFormat format, DiagnosticBag diagnostics)
    {
        var node = reader.Required("length", "give the number of data bytes, such as 'length: 8'");
        if (node is ScalarNode scalar && Quantity.Integer(scalar.Value) is { } length)
            return FormatBinder.CheckLength(length, format, node.Span, diagnostics) ? (int)length
                : format is FrameFormat.Classic ? Longest : FdLengths.AtLeast(length);
        return (int)(Scalars.Integer(node, diagnostics, "the length", 0, Longest) ?? Longest);
    }

    internal static IReadOnlyList<int> BindModes(MappingReader reader, Bound bound)
    {
        var awake = Enumerable.Range(0, bound.ModeNames.Count).Where(m => !bound.Sleeping.Contains(m)).ToList();
        switch (reader.Optional("in"))
        {
            case null:
                return awake;
            case SequenceNode list:
                return [.. list.Items.Select(Mode).Where(m => m >= 0).Distinct().Order()];
            case var one:
                return Mode(one) is >= 0 and var mode ? [mode] : [];
        }

        int Mode(SyntaxNode node) => Scalars.Text(node, bound.Diagnostics, "a mode") is { } name
            ? bound.Find(bound.ModeNames, name, node.Span, Codes.UnknownMode, "mode") : -1;
    }

    internal static byte[] BindBase(MappingReader reader, int length, DiagnosticBag diagnostics)
    {
        var node = reader.Optional("base");
        var bytes = Scalars.Bytes(node, diagnostics, "the base");
        if (bytes is null || bytes.Length == length)
            return bytes ?? new byte[length];
        diagnostics.Add(Codes.BaseLength, node!.Span, $"the base has {bytes.Length} bytes, the frame {length}", $"give {length} bytes");
        return new byte[length];
    }
}
