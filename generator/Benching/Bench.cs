using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Benching;

/// <summary>The bench sheet of a module.</summary>
public static class Bench
{
    /// <summary>What holds for every module.</summary>
    public static IReadOnlyList<BenchTable> General { get; } = [PulseTable.Table];

    /// <summary>Everything that can be computed; without a section 'bench' what the buses and the hazard class alone say.</summary>
    public static BenchSheet Of(Module module)
    {
        List<BenchSection> sections =
        [
            .. module.Bench is { } bench ? new[] { ResistorTable.Of(bench), LoadTables.Stages(bench), LoadTables.Inrush(bench), LoadTables.Wires(bench), HoldUpTable.Of(bench) } : [],
            BusTables.Terminations(module),
            BusTables.Lines(module),
            ConnectorTable.Of(module.Bench?.Connector),
        ];
        List<BenchItem> items = [.. sections.SelectMany(s => s.Items).Concat(module.Bench is null ? [] : PulseTable.Items).GroupBy(i => i.For).SelectMany(g => g)];
        return new BenchSheet
        {
            Module = module.Name,
            Hazard = Model.Cautions.Word(module.Hazard),
            Cautions = BenchCautions.Of(module),
            Tables = [.. sections.Select(s => s.Table).OfType<BenchTable>(), .. items.Count > 0 ? new[] { Parts(items) } : []],
            Problems = [.. sections.SelectMany(s => s.Problems)],
            Missing = [.. Missing(module)],
        };
    }

    private static BenchTable Parts(IEnumerable<BenchItem> items) => new("parts", "Parts list", ["for", "pieces", "part"],
        [.. items.Select(i => (IReadOnlyList<BenchCell>)[new(Printable.Clean(i.For)), new(i.Count.ToString(), i.Count), new(i.Part)])],
        ["Values are computed, not tried. Before ordering compare them with the makers' sheets. Modules on one board share what is for the board."]);

    private static IEnumerable<string> Missing(Module module)
    {
        if (module.Bench is not { } bench)
        {
            yield return "the description has no section 'bench': resistors, loads, hold-up, bus wiring and connector are not known (README, On the bench)";
            yield break;
        }
        if (bench.Resistors.Count + bench.Loads.Count is 0)
            yield return "'resistors' and 'loads': what watched the module's own parts may log a fault at the open plug";
        if (bench.Supply.NominalV > PulseTable.MostOf12V)
            yield return "the levels of pulses on supplies of 24 V: the table is for 12 V";
        if (bench.HoldUp is null)
            yield return "'hold-up': whether the board lives through a dip of the supply is not known";
        foreach (var bus in module.Buses.Where((_, i) => bench.Buses.All(b => b.Bus != i || b.Terminations.Count is 0)))
            yield return $"'buses: {Printable.Clean(bus.Name)}: terminations': who carried them";
        if (bench.Connector is null)
            yield return "'connector': which pin carries what";
        foreach (var resistor in bench.Resistors.Where(r => r is { CurrentA: null, VoltageV: null, Pulse: null }))
            yield return $"'current' or 'voltage' of resistor {Printable.Clean(resistor.Name)}: its power is not known";
    }
}
