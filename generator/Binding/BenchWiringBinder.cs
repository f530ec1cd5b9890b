using Locum.Diagnostics;
using Locum.Model;
using Locum.Parts;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Bus wiring and the plug.</summary>
internal static class BenchWiringBinder
{
    public const int MostTerminations = 16;
    public const int MostPins = 256;

    public static IReadOnlyList<BenchBus> BindBuses(MappingReader bench, Bound bound) =>
        [.. bench.Named("buses", "buses").Select(e => BindBus(e, bound)).OfType<BenchBus>()];

    public static BenchConnector? BindConnector(SyntaxNode? node, Bound bound)
    {
        if (node is null)
            return null;
        var reader = new MappingReader(node, bound.Diagnostics, "a connector");
        var type = Scalars.Text(reader.Optional("type"), bound.Diagnostics, "the type") ?? "";
        var entries = reader.Named("pins", "pins");
        if (entries.Count > MostPins)
            bound.Diagnostics.Add(Codes.TooMany, entries[MostPins].Key.Span, $"a connector has at most {MostPins} pins", "leave pins out that nothing is wired to");
        List<BenchPin> pins = [.. entries.Take(MostPins).Select(e => BindPin(e, bound.Diagnostics))];
        reader.Done();
        return new BenchConnector(type, pins);
    }

    private static BenchBus? BindBus(MappingEntry entry, Bound bound)
    {
        var diagnostics = bound.Diagnostics;
        var bus = bound.Find([.. bound.Buses.Select(b => b.Name)], entry.Key.Value, entry.Key.Span, Codes.BenchName, "bus");
        var reader = new MappingReader(entry.Value, diagnostics, "the wiring of a bus");
        var entries = reader.Named("terminations", "nodes with a termination");
        if (entries.Count > MostTerminations)
            diagnostics.Add(Codes.TooMany, entries[MostTerminations].Key.Span, $"a bus has at most {MostTerminations} terminations", "two are usual");
        List<Termination> terminations = [.. entries.Take(MostTerminations).Select(e => BindTermination(e, diagnostics))];
        var standIn = Amounts.Ohm(reader.Optional("stand-in"), diagnostics, "the termination of the stand-in");
        var length = Amounts.Metre(reader.Optional("length"), diagnostics, "the length");
        var stub = Amounts.Metre(reader.Optional("stub"), diagnostics, "the stub");
        reader.Done();
        return bus < 0 ? null : new BenchBus(bus, entry.Key.Span) { Terminations = terminations, StandInOhm = standIn, LengthM = length, StubM = stub };
    }

    private static Termination BindTermination(MappingEntry entry, DiagnosticBag diagnostics)
    {
        if (entry.Value is ScalarNode { Quoted: false, Value: "" })
            return new Termination(entry.Key.Value, BusLine.TerminationOhm, false, entry.Key.Span);
        var reader = new MappingReader(entry.Value, diagnostics, "a termination");
        var ohm = Amounts.Ohm(reader.Optional("resistance"), diagnostics, "the resistance") ?? BusLine.TerminationOhm;
        var removed = Scalars.Word(reader.Optional("removed"), diagnostics, "answer", WordTables.YesNo) ?? false;
        reader.Done();
        return new Termination(entry.Key.Value, ohm, removed, entry.Key.Span);
    }

    private static BenchPin BindPin(MappingEntry entry, DiagnosticBag diagnostics)
    {
        var reader = new MappingReader(entry.Value, diagnostics, "a pin");
        var signal = Scalars.Text(reader.Required("signal", "say what is on it: 'signal: supply'"), diagnostics, "the signal") ?? "";
        var section = Amounts.Section(reader.Optional("wire"), diagnostics, "the cross-section");
        var colour = Scalars.Text(reader.Optional("colour"), diagnostics, "the colour") ?? "";
        var part = Scalars.Text(reader.Optional("part"), diagnostics, "the part");
        reader.Done();
        return new BenchPin(entry.Key.Value, signal, section, colour, part, entry.Key.Span);
    }
}
