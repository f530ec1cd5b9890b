using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>The bench: what is built around the board.</summary>
internal static class BenchBinder
{
    public const int MostPulseUs = 1_000_000_000;

    /// <summary>Common practice, no source: a closed cab in the sun.</summary>
    public const decimal UsualAmbientC = 60;

    private const decimal UsualFromV = 9;
    private const decimal UsualToV = 16;
    private const decimal UsualNominalV = 13.5m;
    private const decimal UsualDiodeV = 0.7m;
    private const decimal UsualCapacitorPercent = 20;

    /// <summary>Null when the description says nothing about it.</summary>
    public static BenchSetup? Bind(MappingReader module, Bound bound)
    {
        if (module.Optional("bench") is not { } node)
            return null;
        var diagnostics = bound.Diagnostics;
        var reader = new MappingReader(node, diagnostics, "the bench");
        var ambient = Amounts.Celsius(reader.Optional("ambient"), diagnostics, "the ambient temperature") ?? UsualAmbientC;
        var supply = BindSupply(reader.Optional("supply"), reader, diagnostics);
        var bench = new BenchSetup
        {
            AmbientC = ambient,
            Supply = supply,
            Resistors = BenchResistorBinder.Bind(reader, bound),
            Loads = BenchLoadBinder.Bind(reader, bound),
            HoldUp = BindHoldUp(reader.Optional("hold-up"), supply, diagnostics),
            Buses = BenchWiringBinder.BindBuses(reader, bound),
            Connector = BenchWiringBinder.BindConnector(reader.Optional("connector"), bound),
            Span = module.SpanOf("bench"),
        };
        reader.Done();
        return bench;
    }

    private static BenchSupply BindSupply(SyntaxNode? node, MappingReader bench, DiagnosticBag diagnostics)
    {
        if (node is null)
            return new BenchSupply(UsualFromV, UsualToV, UsualNominalV, bench.Span);
        var reader = new MappingReader(node, diagnostics, "the supply");
        var from = Amounts.Volt(reader.Optional("from"), diagnostics, "the lowest supply") ?? UsualFromV;
        var to = Amounts.Volt(reader.Optional("to"), diagnostics, "the highest supply") ?? UsualToV;
        var nominal = Amounts.Volt(reader.Optional("nominal"), diagnostics, "the nominal supply") ?? UsualNominalV;
        reader.Done();
        return new BenchSupply(from, to, nominal, node.Span);
    }

    private static HoldUp? BindHoldUp(SyntaxNode? node, BenchSupply supply, DiagnosticBag diagnostics)
    {
        if (node is null)
            return null;
        var reader = new MappingReader(node, diagnostics, "a hold-up");
        var power = Amounts.Watt(reader.Optional("power"), diagnostics, "the power");
        var current = Amounts.Ampere(power is null ? reader.Required("current", "give the 'current' behind a linear regulator, or the 'power' of a switching converter") : reader.Optional("current"), diagnostics, "the current");
        var before = Amounts.Volt(reader.Optional("before"), diagnostics, "the supply before the dip") ?? supply.FromV;
        var lowest = Amounts.Volt(reader.Required("lowest", "say at which input the board's regulator still works: 'lowest: 5.5 V'"), diagnostics, "the lowest input");
        var (dipV, dipUs) = BindDip(reader.Required("dip", "say how deep and how long: 'dip: {to: 4.5 V, for: 100 ms}'"), diagnostics);
        var diode = Amounts.Volt(reader.Optional("diode"), diagnostics, "the drop of the diode", 0) ?? UsualDiodeV;
        var tolerance = Amounts.Percent(reader.Optional("tolerance"), diagnostics, "the tolerance", 80) ?? UsualCapacitorPercent;
        var fitted = Amounts.Farad(reader.Optional("fitted"), diagnostics, "the capacitor");
        reader.Done();
        if (power is not null && current is not null)
            diagnostics.Add(Codes.UnknownKey, reader.SpanOf("current"), "a hold-up has 'current' or 'power', not both", "keep the one that is known");
        if (lowest is null || dipV is null || dipUs is null || (power is null && current is null))
            return null;
        return new HoldUp
        {
            CurrentA = power is null ? current : null,
            PowerW = power,
            BeforeV = before,
            DipV = dipV.Value,
            DipUs = dipUs.Value,
            LowestV = lowest.Value,
            DiodeV = diode,
            TolerancePercent = tolerance,
            FittedF = fitted,
            Span = node.Span,
        };
    }

    private static (decimal? V, long? Us) BindDip(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (node is null)
            return (null, null);
        var reader = new MappingReader(node, diagnostics, "a dip");
        var to = Amounts.Volt(reader.Required("to", "say how deep: 'to: 4.5 V'"), diagnostics, "the supply in the dip", 0);
        var time = Scalars.TimeUs(reader.Required("for", "say how long: 'for: 100 ms'"), diagnostics, "the time of the dip", 1, MostPulseUs);
        reader.Done();
        return (to, time);
    }
}
