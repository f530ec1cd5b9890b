using Locum.Diagnostics;
using Locum.Model;
using Locum.Parts;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Resistors that stand in for parts whose resistance is watched.</summary>
internal static class BenchResistorBinder
{
    public const int Most = 32;

    private const decimal UsualTolerancePercent = 1;
    private const decimal FinePercent = 1;

    private static readonly Dictionary<string, int> s_series = new(StringComparer.Ordinal)
    {
        ["E6"] = 6,
        ["E12"] = 12,
        ["E24"] = 24,
        ["E48"] = 48,
        ["E96"] = 96,
        ["E192"] = 192,
    };

    public static IReadOnlyList<BenchResistor> Bind(MappingReader bench, Bound bound)
    {
        var entries = bench.Named("resistors", "resistors");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a bench has at most {Most} resistors", "leave resistors out");
        return [.. entries.Take(Most).Select(e => BindOne(e, bound.Diagnostics)).OfType<BenchResistor>()];
    }

    private static BenchResistor? BindOne(MappingEntry entry, DiagnosticBag diagnostics)
    {
        var name = Scalars.Name(entry.Key, diagnostics, "a resistor") ?? entry.Key.Value;
        var reader = new MappingReader(entry.Value, diagnostics, "a resistor");
        var least = Amounts.Ohm(reader.Required("at least", "give the window: 'at least: 2 ohm'"), diagnostics, "the lower end");
        var most = Amounts.Ohm(reader.Required("at most", "give the window: 'at most: 3.2 ohm'"), diagnostics, "the upper end");
        var tolerance = Amounts.Percent(reader.Optional("tolerance"), diagnostics, "the tolerance", 20) ?? UsualTolerancePercent;
        // Parts of 1 % and better come in finer steps as well, but those of E24 are on every shelf.
        var series = Scalars.Word(reader.Optional("series"), diagnostics, "series of values", s_series) ?? (tolerance < FinePercent ? 96 : 24);
        var current = Amounts.Ampere(reader.Optional("current"), diagnostics, "the current");
        var voltage = Amounts.Volt(reader.Optional("voltage"), diagnostics, "the voltage", 0.001m);
        var pulse = BindPulse(reader.Optional("pulse"), diagnostics);
        var (fullTo, zeroAt) = BindDerating(reader.Optional("derating"), diagnostics);
        reader.Done();
        return least is null || most is null ? null : new BenchResistor
        {
            Name = name,
            AtLeastOhm = least.Value,
            AtMostOhm = most.Value,
            TolerancePercent = tolerance,
            Series = series,
            CurrentA = current,
            VoltageV = voltage,
            Pulse = pulse,
            FullToC = fullTo,
            ZeroAtC = zeroAt,
            Span = entry.Key.Span,
        };
    }

    private static ResistorPulse? BindPulse(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (node is null)
            return null;
        var reader = new MappingReader(node, diagnostics, "a pulse");
        var current = Amounts.Ampere(reader.Required("current", "give its current: 'current: 1.5 A'"), diagnostics, "the current");
        var time = Scalars.TimeUs(reader.Required("for", "say how long it lasts: 'for: 10 ms'"), diagnostics, "the time of the pulse", 1, BenchBinder.MostPulseUs);
        var every = Scalars.TimeUs(reader.Required("every", "say how often it comes: 'every: 1 s'"), diagnostics, "the distance of pulses", 1, ModeBinder.LongestStayUs);
        reader.Done();
        return current is null || time is null || every is null ? null : new ResistorPulse(current.Value, time.Value, every.Value, node.Span);
    }

    private static (decimal FullToC, decimal ZeroAtC) BindDerating(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (node is null)
            return (Derating.UsualFullToC, Derating.UsualZeroAtC);
        var reader = new MappingReader(node, diagnostics, "a derating");
        var full = Amounts.Celsius(reader.Optional("full to"), diagnostics, "the temperature of full power") ?? Derating.UsualFullToC;
        var zero = Amounts.Celsius(reader.Optional("zero at"), diagnostics, "the temperature of no power") ?? Derating.UsualZeroAtC;
        reader.Done();
        if (full < zero)
            return (full, zero);
        diagnostics.Add(Codes.BenchRange, node.Span, $"full power up to {full} degC and none from {zero} degC run backwards", "'zero at' lies above 'full to'; film resistors have 70 and 155 degC");
        // So that nothing else is found about it.
        return (zero, full + 1);
    }
}
