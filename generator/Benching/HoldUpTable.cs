using Locum.Model;
using Locum.Parts;

namespace Locum.Benching;

/// <summary>The capacitor that feeds the board while the supply dips.</summary>
internal static class HoldUpTable
{
    private const int Series = 6;

    // More than there is; where hardly a drop is left the formula would go on.
    private const double MostF = 1e6;

    private static readonly decimal[] s_voltages = [16, 25, 35, 50, 63, 100];

    public static BenchSection Of(BenchSetup bench)
    {
        if (bench.HoldUp is not { } h || h.BeforeV - h.DiodeV <= h.LowestV)
            return BenchSection.None;
        var start = h.BeforeV - h.DiodeV;
        if (h.DipV - h.DiodeV >= h.LowestV)
            return new BenchSection(Table([Row("in the dip", Figures.Volt(h.DipV - h.DiodeV), $"the regulator needs {Figures.Plain(h.LowestV)} V: no capacitor is needed")], []), [], []);
        var seconds = h.DipUs / 1e6;
        var needed = (decimal)Math.Min(MostF, h.PowerW is { } p
            ? HoldUpCapacitor.ForPower((double)p, seconds, (double)start, (double)h.LowestV)
            : HoldUpCapacitor.ForCurrent((double)h.CurrentA!, seconds, (double)start, (double)h.LowestV));
        var marked = needed / (1 - (h.TolerancePercent / 100));
        var chosen = ESeries.AtLeast(Series, marked * 1_000_000) / 1_000_000;
        var rated = s_voltages.FirstOrDefault(v => v >= Math.Max((decimal)SupplyPulse.ClampV, bench.Supply.ToV * 1.25m), s_voltages[^1]);
        var problem = h.FittedF is { } f && f < marked
            ? $"the fitted {Figures.Farad(f).Text} hold {Figures.Second(Holds(h, start, f)).Text} instead of {Figures.Second(h.DipUs / 1e6m).Text}" : null;
        var part = h.FittedF is { } fitted && problem is null ? fitted : chosen;
        List<IReadOnlyList<BenchCell>> rows =
        [
            Row("begins at", Figures.Volt(start), $"{Figures.Plain(h.BeforeV)} V before the dip less {Figures.Plain(h.DiodeV)} V of the diode"),
            Row("may fall to", Figures.Volt(h.LowestV), "the regulator's lowest input"),
            Row("needed", Figures.Farad(needed), h.PowerW is { } w ? $"2 P t / (V1^2 - V2^2) for {Figures.Watt(w).Text} and {Figures.Second(h.DipUs / 1e6m).Text}" : $"I t / (V1 - V2) for {Figures.Ampere(h.CurrentA).Text} and {Figures.Second(h.DipUs / 1e6m).Text}"),
            Row("marked", Figures.Farad(marked), $"it may have {Figures.Plain(h.TolerancePercent)} % less"),
            Row("next value", Figures.Farad(chosen), $"E6; holds {Figures.Second(Holds(h, start, chosen)).Text} at worst"),
            .. h.FittedF is { } there ? new[] { Row("fitted", Figures.Farad(there), $"holds {Figures.Second(Holds(h, start, there)).Text} at worst") } : [],
            Row("rated for", Figures.Volt(rated), "above what a suppressor lets through"),
        ];
        return new BenchSection(
            Table(rows, ["The diode keeps the dip from emptying the capacitor and blocks reversed supply. An empty capacitor is a short at switching on: a few ohm in front limit its current. Cold electrolytic capacitors have less than at 20 degC."]),
            [
                new("board", 1, $"electrolytic capacitor {Figures.Farad(part).Text}, {Figures.Plain(rated)} V, 105 degC"),
                new("board", 1, $"diode, at least {Figures.Plain(200)} V and twice the board's current, drop up to {Figures.Plain(h.DiodeV)} V"),
            ],
            problem is null ? [] : [problem]);
    }

    private static decimal Holds(HoldUp h, decimal start, decimal farad)
    {
        var least = (double)(farad * (1 - (h.TolerancePercent / 100)));
        return (decimal)(h.PowerW is { } p
            ? HoldUpCapacitor.HoldsPower(least, (double)p, (double)start, (double)h.LowestV)
            : HoldUpCapacitor.HoldsCurrent(least, (double)h.CurrentA!, (double)start, (double)h.LowestV));
    }

    private static BenchTable Table(IReadOnlyList<IReadOnlyList<BenchCell>> rows, IReadOnlyList<string> notes) => new("hold-up", "Supply hold-up", ["what", "value", "reason"], rows, notes);

    private static IReadOnlyList<BenchCell> Row(string what, BenchCell value, string reason) => [new(what), value, new(reason)];
}
