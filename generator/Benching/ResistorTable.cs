using Locum.Diagnostics;
using Locum.Model;
using Locum.Parts;

namespace Locum.Benching;

/// <summary>Stand-in resistors: values, powers, ratings.</summary>
internal static class ResistorTable
{
    private static readonly string[] s_columns = ["resistor", "window", "parts", "makes", "power", "rating"];

    public static BenchSection Of(BenchSetup bench)
    {
        var picks = bench.Resistors.Select(r => (Resistor: r, Pick: ResistorPick.Of(r.AtLeastOhm, r.AtMostOhm, r.TolerancePercent, r.Series))).Where(p => p.Pick is not null).ToList();
        if (picks.Count is 0)
            return BenchSection.None;
        var problems = picks.Where(p => Power(p.Resistor, p.Pick!) is not null && Rating(p.Resistor, p.Pick!, bench.AmbientC) is null)
            .Select(p => $"no usual rating carries the power of {Printable.Clean(p.Resistor.Name)}: divide it among several parts, or take one on a heat sink");
        return new BenchSection(
            new BenchTable("resistors", "Stand-in resistors", s_columns, [.. picks.Select(p => Row(p.Resistor, p.Pick!, bench.AmbientC))], [.. Notes(picks, bench.AmbientC)]),
            [.. picks.SelectMany(p => Items(p.Resistor, p.Pick!, bench.AmbientC))],
            [.. problems]);
    }

    /// <summary>The power of the part that takes most, W, tolerance included; null when neither current nor voltage is known.</summary>
    internal static decimal? Power(BenchResistor resistor, ResistorPick pick)
    {
        if (resistor is { CurrentA: null, VoltageV: null, Pulse: null })
            return null;
        var share = resistor.TolerancePercent / 100;
        var steady = Math.Max(
            resistor.CurrentA is { } i ? i * i * pick.Ohm * (1 + share) : 0,
            resistor.VoltageV is { } u ? u * u / (pick.Ohm * (1 - share)) : 0);
        var mean = resistor.Pulse is { } p ? PeakPower(p, pick, share) * p.ForUs / p.EveryUs : 0;
        return (steady + mean) * Math.Max(pick.FirstShare, 1 - pick.FirstShare);
    }

    private static decimal? Rating(BenchResistor resistor, ResistorPick pick, decimal ambientC) =>
        Power(resistor, pick) is { } power ? Derating.Rating(power, ShortPower(resistor, pick), Derating.Factor(ambientC, resistor.FullToC, resistor.ZeroAtC)) : null;

    private static decimal ShortPower(BenchResistor resistor, ResistorPick pick) => resistor.Pulse is not { } pulse ? 0
        : PeakPower(pulse, pick, resistor.TolerancePercent / 100) * Derating.PulseShare(pulse.ForUs) * Math.Max(pick.FirstShare, 1 - pick.FirstShare);

    private static decimal PeakPower(ResistorPulse pulse, ResistorPick pick, decimal share) => pulse.CurrentA * pulse.CurrentA * pick.Ohm * (1 + share);

    private static IReadOnlyList<BenchCell> Row(BenchResistor resistor, ResistorPick pick, decimal ambientC)
    {
        var share = resistor.TolerancePercent / 100;
        var power = Power(resistor, pick);
        return
        [
            new(Printable.Clean(resistor.Name)),
            new(Figures.Ohms(resistor.AtLeastOhm, "to", resistor.AtMostOhm)),
            new(Value(pick), (double)pick.Ohm, "ohm"),
            new(Figures.Ohms(pick.Ohm * (1 - share), "to", pick.Ohm * (1 + share))),
            Figures.Watt(power),
            power is null ? Figures.None : Figures.Rating(Rating(resistor, pick, ambientC), "W"),
        ];
    }

    private static string Value(ResistorPick pick) => pick.SecondOhm is { } second ? Figures.Ohms(pick.FirstOhm, pick.Parallel ? "||" : "+", second)
        : Figures.Ohm(pick.FirstOhm).Text;

    private static IEnumerable<BenchItem> Items(BenchResistor resistor, ResistorPick pick, decimal ambientC)
    {
        var rating = Rating(resistor, pick, ambientC) is { } w ? $", {Figures.Plain(w)} W" : "";
        var tail = $", {Figures.Plain(resistor.TolerancePercent)} %{rating}{(resistor.Pulse is null ? "" : ", pulse-proof")}";
        if (pick.SecondOhm == pick.FirstOhm)
            return [new(resistor.Name, 2, $"resistor {Figures.Ohm(pick.FirstOhm).Text}{tail}")];
        return new[] { pick.FirstOhm, pick.SecondOhm ?? 0 }.Where(o => o > 0).Select(o => new BenchItem(resistor.Name, 1, $"resistor {Figures.Ohm(o).Text}{tail}"));
    }

    private static IEnumerable<string> Notes(IReadOnlyList<(BenchResistor Resistor, ResistorPick? Pick)> picks, decimal ambientC)
    {
        yield return "Values of IEC 60063, the one nearest to the middle of the window that stays in it with its tolerance; else two, in series (+) or in parallel (||). Powers are those of the warmer part.";
        foreach (var group in picks.Select(p => p.Resistor).GroupBy(r => (r.FullToC, r.ZeroAtC)))
            yield return $"At {Figures.Plain(ambientC)} degC {string.Join(", ", group.Select(r => Printable.Clean(r.Name)))} may carry {Figures.Plain(Math.Round(Derating.Factor(ambientC, group.Key.FullToC, group.Key.ZeroAtC) * 100, 1))} % of the rating (all of it up to {Figures.Plain(group.Key.FullToC)} degC, none at {Figures.Plain(group.Key.ZeroAtC)} degC); half of that is used (common practice, no source).";
        foreach (var (resistor, pick) in picks)
            if (resistor.Pulse is { } pulse)
            {
                var peak = PeakPower(pulse, pick!, resistor.TolerancePercent / 100);
                yield return $"{Printable.Clean(resistor.Name)}: {Figures.Ampere(pulse.CurrentA).Text} for {Figures.Second(pulse.ForUs / 1e6m).Text} every {Figures.Second(pulse.EveryUs / 1e6m).Text} are {Figures.Watt(peak).Text} at the peak and {Figures.Joule(peak * pulse.ForUs / 1e6m).Text} each time; the rating is at least {Figures.Plain(Derating.PulseShare(pulse.ForUs) * 100)} % of the peak (common practice, no source), and the maker's pulse curve must allow it.";
            }
    }
}
