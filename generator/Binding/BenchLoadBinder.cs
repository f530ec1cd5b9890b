using Locum.Diagnostics;
using Locum.Model;
using Locum.Parts;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Loads whose current is watched.</summary>
internal static class BenchLoadBinder
{
    public const int Most = 32;
    public const int MostStages = 16;

    private const decimal MostTimes = 20;
    private const long FilamentSettlesUs = 50_000;
    private const long MotorSettlesUs = 100_000;

    private static readonly Dictionary<string, LoadKind> s_kinds = new(StringComparer.Ordinal)
    {
        ["resistor"] = LoadKind.Resistor,
        ["filament"] = LoadKind.Filament,
        ["motor"] = LoadKind.Motor,
    };

    public static IReadOnlyList<BenchLoad> Bind(MappingReader bench, Bound bound)
    {
        var entries = bench.Named("loads", "loads");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a bench has at most {Most} loads", "leave loads out");
        return [.. entries.Take(Most).Select(e => BindOne(e, bound.Diagnostics)).OfType<BenchLoad>()];
    }

    private static BenchLoad? BindOne(MappingEntry entry, DiagnosticBag diagnostics)
    {
        var name = Scalars.Name(entry.Key, diagnostics, "a load") ?? entry.Key.Value;
        var reader = new MappingReader(entry.Value, diagnostics, "a load");
        var kind = Scalars.Word(reader.Optional("kind"), diagnostics, "kind of load", s_kinds) ?? LoadKind.Resistor;
        var stages = BindStages(reader.Required("stages", "give the current: 'stages: [{at: 0 s, current: 2 A}]'"), diagnostics);
        var time = Scalars.TimeUs(reader.Optional("for"), diagnostics, "the time of the load", 1, ModeBinder.LongestStayUs);
        var every = Scalars.TimeUs(reader.Optional("every"), diagnostics, "the distance of starts", 1, ModeBinder.LongestStayUs);
        var (times, settles) = BindInrush(reader.Optional("inrush"), kind, diagnostics);
        var wire = BindWire(reader.Optional("wire"), diagnostics);
        reader.Done();
        return stages.Count is 0 ? null : new BenchLoad
        {
            Name = name,
            Kind = kind,
            Stages = stages,
            ForUs = time,
            EveryUs = every,
            InrushTimes = times,
            SettlesUs = settles,
            Wire = wire,
            Span = entry.Key.Span,
        };
    }

    private static List<LoadStage> BindStages(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (node is null)
            return [];
        if (node is not SequenceNode { Items: { Count: > 0 } items })
        {
            diagnostics.Add(Codes.WrongShape, node.Span, $"'stages' is a list of at least one stage, this is {(node is SequenceNode ? "an empty one" : node.Kind)}", "write 'stages: [{at: 0 s, current: 2 A}]'");
            return [];
        }
        if (items.Count > MostStages)
            diagnostics.Add(Codes.TooMany, items[MostStages].Span, $"a load has at most {MostStages} stages", "leave stages out");
        return [.. items.Take(MostStages).Select(i => BindStage(i, diagnostics)).OfType<LoadStage>()];
    }

    private static LoadStage? BindStage(SyntaxNode node, DiagnosticBag diagnostics)
    {
        var reader = new MappingReader(node, diagnostics, "a stage");
        var at = Scalars.TimeUs(reader.Optional("at"), diagnostics, "the time of a stage", 0, ModeBinder.LongestStayUs) ?? 0;
        var current = Amounts.Ampere(reader.Required("current", "give its current: 'current: 2 A'"), diagnostics, "the current");
        reader.Done();
        return current is null ? null : new LoadStage(at, current.Value, node.Span);
    }

    private static (decimal Times, long SettlesUs) BindInrush(SyntaxNode? node, LoadKind kind, DiagnosticBag diagnostics)
    {
        var (times, settles) = kind switch
        {
            LoadKind.Filament => (Inrush.Filament, FilamentSettlesUs),
            LoadKind.Motor => (Inrush.Motor, MotorSettlesUs),
            _ => (1, 0),
        };
        if (node is null)
            return (times, settles);
        var reader = new MappingReader(node, diagnostics, "an inrush");
        var given = reader.Optional("times");
        if (Scalars.Number(given, diagnostics, "the inrush") is { } number)
        {
            if (number is < 1 or > MostTimes)
                diagnostics.Add(Codes.OutOfRange, given!.Span, $"an inrush of {number} times lies outside 1 to {MostTimes}", "a cold filament draws about 10 times its current, a standing motor about 6 times");
            else
                times = number;
        }
        settles = Scalars.TimeUs(reader.Optional("settles"), diagnostics, "the time of the inrush", 0, BenchBinder.MostPulseUs) ?? settles;
        reader.Done();
        return (times, settles);
    }

    private static BenchWire? BindWire(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (node is null)
            return null;
        var reader = new MappingReader(node, diagnostics, "a wire");
        var length = Amounts.Metre(reader.Required("length", "give its length, one way: 'length: 3 m'"), diagnostics, "the length");
        var section = Amounts.Section(reader.Required("section", "give its cross-section: 'section: 0.75 mm2'"), diagnostics, "the cross-section");
        reader.Done();
        return length is null || section is null ? null : new BenchWire(length.Value, section.Value, node.Span);
    }
}
