using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Wire;

namespace Locum.Binding;

internal static class FieldBinder
{
    public const int Most = 64;
    public const int MostFd = 256;

    private static readonly Dictionary<string, bool> s_orders = new(StringComparer.Ordinal) { ["little"] = false, ["big"] = true };

    public static IReadOnlyList<Field> Bind(MappingReader frame, string frameName, FormulaContext context, IReadOnlyList<int> modes, Bound bound)
    {
        var readers = new List<(Field Field, MappingReader Reader)>();
        var entries = frame.Named("fields", "fields");
        var most = context.Length > 8 ? MostFd : Most;
        if (entries.Count > most)
            bound.Diagnostics.Add(Codes.TooMany, entries[most].Key.Span, $"a frame of {context.Length} bytes has at most {most} fields", "leave fields out");
        foreach (var entry in entries.Take(most))
        {
            var reader = new MappingReader(entry.Value, bound.Diagnostics, "a field");
            if (entry.Value is MappingNode)
                readers.Add((BindField(entry, reader, frameName, modes, bound), reader));
        }
        // Formulas and checksums may refer to any value and counter of the frame, so they come last.
        var fields = readers.ConvertAll(r => r.Field);
        var stages = readers.ConvertAll(r => r.Reader.Has("checksum") ? FieldStage.Checksum : r.Reader.Has("formula") ? FieldStage.Formula : FieldStage.Value);
        for (var i = 0; i < readers.Count; i++)
            if (FormulaBinder.Bind(readers[i].Reader, fields, stages, i, context, bound) is { } formula)
                fields[i] = fields[i] with { Source = formula };
        for (var i = 0; i < readers.Count; i++)
            if (ChecksumBinder.Bind(readers[i].Reader, fields, stages, i, context, bound) is { } checksum)
                fields[i] = fields[i] with { Source = new ChecksumValue(checksum) };
        foreach (var (_, reader) in readers)
            reader.Done();
        bound.CheckClashes(fields.Select(f => (f.Name, f.Span)), "fields");
        return fields;
    }

    /// <summary>Fields of a received frame: places and meanings, no sources.</summary>
    public static IReadOnlyList<Field> BindReceived(MappingReader frame, Bound bound)
    {
        var fields = new List<Field>();
        foreach (var entry in frame.Named("fields", "fields").Take(Most))
        {
            var reader = new MappingReader(entry.Value, bound.Diagnostics, "a received field");
            if (entry.Value is not MappingNode)
                continue;
            fields.Add(BindPlace(entry, reader, bound));
            reader.Done();
            if (fields[^1].Positions().Any(p => p < 0))
                bound.Diagnostics.Add(Codes.FieldOutside, entry.Key.Span, $"'{fields[^1].Name}' would begin before byte 0; with 'order: big' the field grows towards byte 0", "correct the position or the width");
        }
        bound.CheckClashes(fields.Select(f => (f.Name, f.Span)), "fields");
        return [.. fields.Where(f => f.Positions().All(p => p >= 0))];
    }

    private static Field BindField(MappingEntry entry, MappingReader reader, string frameName, IReadOnlyList<int> modes, Bound bound)
    {
        var field = BindPlace(entry, reader, bound);
        CheckOneSource(reader, bound.Diagnostics);
        return field with { Source = BindSource(reader, field, frameName, modes, bound) };
    }

    private static Field BindPlace(MappingEntry entry, MappingReader reader, Bound bound)
    {
        var diagnostics = bound.Diagnostics;
        var name = Scalars.Name(entry.Key, diagnostics, "a field") ?? entry.Key.Value;
        var field = new Field
        {
            Name = name,
            Bit = (int)(Scalars.Integer(reader.Required("bit", "give the position of the least significant bit: byte × 8 + bit"), diagnostics, "the bit position", 0, (FdLengths.Most * 8) - 1) ?? 0),
            Bits = (int)(Scalars.Integer(reader.Required("bits", "give the width in bits"), diagnostics, "the width", 1, 64) ?? 1),
            BigEndian = Scalars.Word(reader.Optional("order"), diagnostics, "byte order", s_orders) ?? false,
            Signed = Scalars.Word(reader.Optional("signed"), diagnostics, "answer", WordTables.YesNo) ?? false,
            Scale = Scalars.Number(reader.Optional("scale"), diagnostics, "the scale") ?? 1,
            Offset = Scalars.Number(reader.Optional("offset"), diagnostics, "the offset") ?? 0,
            Unit = Scalars.Text(reader.Optional("unit"), diagnostics, "the unit"),
            Names = BindNames(reader, bound),
            Span = entry.Key.Span,
        };
        if (field.Scale is 0)
        {
            diagnostics.Add(Codes.BadScale, reader.ValueSpan("scale"), "the scale is 0, so no raw value can be found", "give the value of one step, such as 0.5");
            field = field with { Scale = 1 };
        }
        foreach (var label in field.Names.Where(n => !FieldValues.Fits(n.Value, field)))
            diagnostics.Add(Codes.ValueOutside, reader.ValueSpan("names"), $"the named value {label.Key} = {label.Value} does not fit {FieldValues.Describe(field)}", "correct the value or widen the field");
        return field;
    }

    private static FieldSource? BindSource(MappingReader reader, Field field, string frameName, IReadOnlyList<int> modes, Bound bound)
    {
        if (FollowBinder.Bind(reader, field, bound) is { } follow)
            return follow;
        if (LiveBinder.Bind(reader, field, bound) is { } live)
            return live;
        if (reader.Has("checksum") || reader.Has("formula"))
            return null; // bound when all values and counters of the frame are known
        switch (reader.Optional("counter"))
        {
            case null:
                return FieldValues.Bind(reader, field, modes, bound);
            case MappingNode own:
                var index = CounterBinder.BindOwn(own, frameName, field.Name, field.Bits, field.Span, bound);
                return new CounterValue(index);
            case ScalarNode { Value: var name, Span: var span }:
                var shared = bound.Find([.. bound.Counters.Select(c => c.Name)], name, span, Codes.UnknownCounter, "shared counter");
                return shared >= 0 ? new CounterValue(shared) : null;
            case var other:
                bound.Diagnostics.Add(Codes.WrongShape, other.Span, $"a counter is a mapping or the name of a shared one, this is {other.Kind}", "write 'counter: {from: 0, to: 15}'");
                return null;
        }
    }

    private static Dictionary<string, long> BindNames(MappingReader reader, Bound bound)
    {
        var names = new Dictionary<string, long>(StringComparer.Ordinal);
        foreach (var (key, value) in reader.Named("names", "raw values"))
            if (Scalars.Integer(value, bound.Diagnostics, "a named value", long.MinValue, long.MaxValue) is { } raw)
                names[key.Value] = raw;
        return names;
    }

    private static void CheckOneSource(MappingReader reader, DiagnosticBag diagnostics)
    {
        var sources = new[] { "value", "follow", "ramp", "noise", "counter", "formula", "checksum" }.Where(s => reader.Optional(s) is not null).ToList();
        if (sources.Count > 1)
            diagnostics.Add(Codes.TwoSources, reader.SpanOf(sources[1]), $"the field has both '{sources[0]}' and '{sources[1]}'", "keep one of them");
    }
}
