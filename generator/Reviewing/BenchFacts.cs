using Locum.Model;

namespace Locum.Reviewing;

/// <summary>The bench of a module as one item, a fact for each part.</summary>
internal static class BenchFacts
{
    public static Item Of(BenchSetup bench, Scope scope) => new()
    {
        Kind = "bench of",
        Name = scope.Module.Name,
        Identity = "bench",
        Facts =
        [
            new("ambient", $"{Say.Number(bench.AmbientC)} degC"),
            new("supply", $"{Say.Number(bench.Supply.FromV)} to {Say.Number(bench.Supply.ToV)} V, nominal {Say.Number(bench.Supply.NominalV)} V"),
            .. bench.Resistors.Select(r => new Fact($"resistor {r.Name}", Resistor(r))),
            .. bench.Loads.Select(l => new Fact($"load {l.Name}", Load(l))),
            new("hold-up", bench.HoldUp is { } holdUp ? HoldUp(holdUp) : "none"),
            .. bench.Buses.Select(b => new Fact($"wiring of {scope.Bus(b.Bus)}", Wiring(b))),
            new("connector", bench.Connector is { } connector ? $"type {connector.Type}" : "none"),
            .. (bench.Connector?.Pins ?? []).Select(p => new Fact($"pin {p.Name}", Pin(p))),
        ],
    };

    private static string Resistor(BenchResistor r) => Join(
        $"{Say.Number(r.AtLeastOhm)} to {Say.Number(r.AtMostOhm)} ohm, {Say.Number(r.TolerancePercent)} %, E{r.Series}, full to {Say.Number(r.FullToC)} degC, zero at {Say.Number(r.ZeroAtC)} degC",
        Unit(r.CurrentA, "A"),
        Unit(r.VoltageV, "V"),
        r.Pulse is { } p ? $"pulse {Say.Number(p.CurrentA)} A for {Say.Time(p.ForUs)} every {Say.Time(p.EveryUs)}" : null);

    private static string Load(BenchLoad l) => Join(
        l.Kind.ToString().ToLowerInvariant(),
        string.Join(", ", l.Stages.Select(s => $"{Say.Number(s.CurrentA)} A at {Say.Time(s.AtUs)}")),
        l.ForUs is { } time ? $"for {Say.Time(time)}" : null,
        l.EveryUs is { } every ? $"every {Say.Time(every)}" : null,
        $"inrush {Say.Number(l.InrushTimes)} times, settles in {Say.Time(l.SettlesUs)}",
        l.Wire is { } w ? $"wire {Say.Number(w.LengthM)} m of {Say.Number(w.SectionMm2)} mm2" : null);

    private static string HoldUp(HoldUp h) => Join(
        Unit(h.CurrentA, "A"),
        Unit(h.PowerW, "W"),
        $"from {Say.Number(h.BeforeV)} V, dip to {Say.Number(h.DipV)} V for {Say.Time(h.DipUs)}, lowest {Say.Number(h.LowestV)} V, diode {Say.Number(h.DiodeV)} V, {Say.Number(h.TolerancePercent)} %",
        h.FittedF is { } fitted ? $"fitted {Say.Number(fitted * 1_000_000)} uF" : null);

    private static string Wiring(BenchBus b) => Join(
        Say.List(b.Terminations.Select(t => $"{t.Name} {Say.Number(t.Ohm)} ohm{(t.Removed ? " removed" : "")}")),
        b.StandInOhm is { } ohm ? $"stand-in {Say.Number(ohm)} ohm" : null,
        b.LengthM is { } length ? $"length {Say.Number(length)} m" : null,
        b.StubM is { } stub ? $"stub {Say.Number(stub)} m" : null);

    private static string Pin(BenchPin p) => Join(p.Signal, Unit(p.SectionMm2, "mm2"), p.Colour, p.Part is { } part ? $"to {part}" : null);

    private static string? Unit(decimal? value, string unit) => value is { } v ? $"{Say.Number(v)} {unit}" : null;

    private static string Join(params string?[] words) => string.Join(", ", words.Where(w => !string.IsNullOrEmpty(w)));
}
