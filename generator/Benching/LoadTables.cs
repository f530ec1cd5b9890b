using Locum.Diagnostics;
using Locum.Model;
using Locum.Parts;

namespace Locum.Benching;

/// <summary>Dummy loads by stage; switches, fuses and wires.</summary>
internal static class LoadTables
{
    // Common practice, no source.
    private const decimal MostDropShare = 0.03m;
    private const decimal SwitchReserve = 2;

    private static readonly decimal[] s_inrushS = [0, 0.001m, 0.005m, 0.02m, 0.1m];

    public static BenchSection Stages(BenchSetup bench)
    {
        if (bench.Loads.Count is 0)
            return BenchSection.None;
        var supply = bench.Supply;
        var stages = bench.Loads.SelectMany(l => l.Stages.Select((s, i) => (Load: l, Stage: s, Dummy: DummyStage.Of(l, i, supply, bench.AmbientC)))).ToList();
        string[] columns = ["load", "at", "original", "dummy", .. new[] { supply.FromV, supply.NominalV, supply.ToV }.Select(v => $"at {Figures.Plain(v)} V"), "power", "rating"];
        return new BenchSection(
            new BenchTable("loads", "Dummy loads by stage", columns, [.. stages.Select(s => Row(s.Load, s.Stage, s.Dummy, supply))],
            [
                $"Dummies are values of E{DummyStage.Series} with {DummyStage.TolerancePercent} %, one resistor for each stage, switched in turn; 'original' is at {Figures.Plain(supply.NominalV)} V, 'power' at {Figures.Plain(supply.ToV)} V.",
                "Ratings: half of what wire-wound parts may carry in the ambient; for stages up to 5 s that come again the mean, and of their own power a tenth up to 100 ms and a fifth up to 5 s (common practice, no source).",
            ]),
            [.. stages.Select(s => new BenchItem(s.Load.Name, 1, $"resistor {Figures.Ohm(s.Dummy.Ohm).Text}, {DummyStage.TolerancePercent} %, {(s.Dummy.RatingW is { } w ? $"{Figures.Plain(w)} W" : "power as in the table")}, wire-wound"))],
            [.. stages.Where(s => s.Dummy.RatingW is null).Select(s => $"no usual rating carries the stage of {Printable.Clean(s.Load.Name)} at {Figures.Second(s.Stage.AtUs / 1e6m).Text}: divide it among several parts")]);
    }

    public static BenchSection Inrush(BenchSetup bench)
    {
        var loads = bench.Loads.Where(l => l.InrushTimes > 1).ToList();
        if (loads.Count is 0)
            return BenchSection.None;
        var rows = loads.Select(l =>
        {
            var inrush = DummyStage.Original(l, bench.Supply);
            return (IReadOnlyList<BenchCell>)[new(Printable.Clean(l.Name)), new(l.Kind.ToString().ToLowerInvariant()), .. s_inrushS.Select(s => Figures.Ampere((decimal)inrush.At((double)s))), new($"{inrush.MeltingIntegral:0.###} A2s", inrush.MeltingIntegral, "A2s")];
        });
        return new BenchSection(new BenchTable("inrush", $"Inrush of the originals at {Figures.Plain(bench.Supply.ToV)} V", ["load", "kind", .. s_inrushS.Select(s => Figures.Second(s).Text), "until settled"], [.. rows],
        [
            "A cold filament draws about 10 times, a standing motor about 6 times its current (makers of relays and switches); taken to fall exponentially until 'settles'. A resistor has no inrush: who watches for one sees that it is missing.",
        ]), [], []);
    }

    public static BenchSection Wires(BenchSetup bench)
    {
        if (bench.Loads.Count is 0)
            return BenchSection.None;
        var lines = bench.Loads.Select(l => WireLine.Of(l, bench)).ToList();
        string[] columns = ["load", "most", "inrush", "switch", "fuse", "wire", "wire's fuse", "drop"];
        return new BenchSection(
            new BenchTable("wires", "Switches, fuses and wires", columns, [.. lines.Select(Row)],
            [
                "A switch carries twice the lasting current, the inrush where the original stays, and blocks 40 V (common practice, no source). A fuse carries at most three quarters of its rating.",
                $"Wires: IEC 60228 class 5 at {Figures.Plain(bench.AmbientC)} degC, there and back; a drop of more than {Figures.Plain(MostDropShare * 100)} % is too much; 'wire's fuse' is the largest for the section (both common practice, no source).",
            ]),
            [.. lines.SelectMany(Items)],
            [.. lines.SelectMany(l => Problems(l, bench.Supply.NominalV))]);
    }

    private static IReadOnlyList<BenchCell> Row(BenchLoad load, LoadStage stage, DummyStage dummy, BenchSupply supply) =>
    [
        new(Printable.Clean(load.Name)), Figures.Second(stage.AtUs / 1e6m), Figures.Ampere(stage.CurrentA), Figures.Ohm(dummy.Ohm),
        Figures.Ampere(supply.FromV / dummy.Ohm), Figures.Ampere(supply.NominalV / dummy.Ohm), Figures.Ampere(supply.ToV / dummy.Ohm),
        Figures.Watt(dummy.PowerW), Figures.Rating(dummy.RatingW, "W"),
    ];

    private static IReadOnlyList<BenchCell> Row(WireLine line) =>
    [
        new(Printable.Clean(line.Load.Name)), Figures.Ampere(line.MostA), line.Load.InrushTimes > 1 ? Figures.Ampere(line.InrushA) : Figures.None,
        Figures.Ampere(line.MostA * SwitchReserve), Figures.Rating(line.FuseA, "A"),
        line.Load.Wire is { } wire ? new BenchCell($"{Figures.Plain(wire.SectionMm2)} mm2", (double)wire.SectionMm2, "mm2") : Figures.None,
        line.Load.Wire is null ? Figures.None : Figures.Rating(line.WireFuseA, "A"), Figures.Volt(line.DropV),
    ];

    private static IEnumerable<BenchItem> Items(WireLine line)
    {
        yield return new(line.Load.Name, 1, $"switch for {Figures.Ampere(line.MostA * SwitchReserve).Text}, 40 V");
        if (line.FuseA is { } fuse)
            yield return new(line.Load.Name, 1, $"blade fuse {Figures.Plain(fuse)} A with holder");
        if (line.Load.Wire is { } wire)
            yield return new(line.Load.Name, 2, $"wire {Figures.Plain(wire.SectionMm2)} mm2, {Figures.Plain(wire.LengthM)} m");
    }

    private static IEnumerable<string> Problems(WireLine line, decimal nominalV)
    {
        if (line.FuseA is null)
            yield return $"no blade fuse carries the {Figures.Ampere(line.MostA).Text} of {Printable.Clean(line.Load.Name)}";
        if (line.FuseA is { } fuse && line.Load.Wire is not null && !(line.WireFuseA >= fuse))
            yield return $"the wire to {Printable.Clean(line.Load.Name)} burns before its fuse of {Figures.Plain(fuse)} A opens: take a thicker one";
        if (line.DropV > nominalV * MostDropShare)
            yield return $"the wire to {Printable.Clean(line.Load.Name)} loses {Figures.Volt(line.DropV).Text} of {Figures.Plain(nominalV)} V: take a thicker or a shorter one";
    }
}
