using Locum.Diagnostics;
using Locum.Model;
using Locum.Parts;

namespace Locum.Benching;

/// <summary>Termination, stubs and lengths of the buses.</summary>
internal static class BusTables
{
    public static BenchSection Terminations(Module module)
    {
        var rows = module.Buses.Select((b, i) => Termination(b, Wiring(module, i))).ToList();
        List<BenchItem> items = [.. module.Buses.Where((_, i) => Closes(Wiring(module, i))).Select(b => new BenchItem(b.Name, 1, $"resistor {BusLine.TerminationOhm} ohm, 1 %, 0.25 W, between CAN-H and CAN-L"))];
        return new BenchSection(
            new BenchTable("termination", "Termination, between CAN-H and CAN-L", ["bus", "carried by", "was", "now", "with 120 ohm", "at the board"], rows,
            [
                "'was' is the bus with the module, 'now' what an ohmmeter reads at the plug without it, 'with 120 ohm' with a terminated stand-in. Measure with every supply off: 60 ohm is right, 120 one termination too few, 40 one too many, near 0 a short.",
                "Levels (ISO 11898-2, from memory): recessive 2.5 V on both wires, dominant 3.5 V on CAN-H and 1.5 V on CAN-L; 1.5 to 3 V between them from a driver, from 0.9 V on dominant to a receiver, up to 0.5 V recessive.",
                $"A termination takes {Figures.Watt(9 / BusLine.TerminationOhm).Text} from a bus that is always dominant at 3 V, and {Figures.Watt(256 / BusLine.TerminationOhm).Text} with one wire shorted to 16 V.",
            ]),
            items,
            [.. module.Buses.SelectMany((b, i) => Wiring(module, i) is { StandInOhm: { } ohm, Terminations.Count: > 0 } w && !BusLine.IsTerminated(Now(w, ohm)) ? new[] { $"with the stand-in's {Figures.Ohm(ohm).Text} the bus {Printable.Clean(b.Name)} has {Figures.Ohm(Now(w, ohm)).Text} instead of 60 ohm" } : [])]);
    }

    public static BenchSection Lines(Module module)
    {
        var lines = module.Buses.Select((b, i) => (Bus: b, Wiring: Wiring(module, i), StubM: BusLine.StubM(b.DataRate ?? b.Rate), MostM: BusLine.LengthM(b.Rate))).ToList();
        return new BenchSection(
            new BenchTable("lines", "Stubs and lengths", ["bus", "rate", "stub at most", "stub", "line at most", "line"],
                [.. lines.Select(l => (IReadOnlyList<BenchCell>)[new(Printable.Clean(l.Bus.Name)), Rate(l.Bus), Figures.Metre(l.StubM), Figures.Metre(l.Wiring?.StubM), Figures.Metre(l.MostM), Figures.Metre(l.Wiring?.LengthM)])],
                ["Stubs: 0.3 m at 1 Mbit/s (ISO 11898-2), in proportion to the bit, of CAN FD that of the data phase, at most a third of the length on which an edge of 50 ns runs there and back (CiA 301). Lines: CiA 301, from memory. Shorter is always better; twist the pair up to the plug."]),
            [],
            [.. lines.SelectMany(Problems)]);

        static IEnumerable<string> Problems((Bus Bus, BenchBus? Wiring, decimal StubM, decimal? MostM) l)
        {
            if (l.Wiring?.StubM > l.StubM)
                yield return $"the stub on {Printable.Clean(l.Bus.Name)} is longer than {Figures.Metre(l.StubM).Text}: loop the bus through at the board";
            if (l.Wiring?.LengthM > l.MostM)
                yield return $"the bus {Printable.Clean(l.Bus.Name)} is longer than {Figures.Metre(l.MostM).Text}: lower the rate, or shorten it";
        }
    }

    private static BenchBus? Wiring(Module module, int bus) => module.Bench?.Buses.FirstOrDefault(b => b.Bus == bus);

    private static BenchCell Rate(Bus bus)
    {
        var rate = bus.DataRate ?? bus.Rate;
        return new BenchCell($"{rate / 1000m:0.###} kbit/s", rate, "bit/s");
    }

    private static IReadOnlyList<BenchCell> Termination(Bus bus, BenchBus? wiring)
    {
        if (wiring is not { Terminations.Count: > 0 })
            return [new(Printable.Clean(bus.Name)), Figures.None, Figures.None, Figures.None, Figures.None, new("measure: at 120 ohm terminate the stand-in, at 60 ohm not")];
        return
        [
            new(Printable.Clean(bus.Name)),
            new(string.Join(", ", wiring.Terminations.Select(t => $"{Printable.Clean(t.Name)}{(t.Removed ? " (removed)" : "")}"))),
            Figures.Ohm(BusLine.Parallel(wiring.Terminations.Select(t => t.Ohm))),
            Now(wiring, null) is { } now ? Figures.Ohm(now) : new BenchCell("open"),
            Figures.Ohm(Now(wiring, BusLine.TerminationOhm)),
            new(Advice(wiring)),
        ];
    }

    private static string Advice(BenchBus wiring) => wiring.StandInOhm is { } ohm ? $"{Figures.Ohm(ohm).Text} fitted"
        : BusLine.IsTerminated(Now(wiring, null)) ? "no termination"
        : Closes(wiring) ? "terminate, 120 ohm"
        : "neither is right: look for the ends of the bus";

    private static bool Closes(BenchBus? wiring) => wiring is { StandInOhm: null, Terminations.Count: > 0 } && !BusLine.IsTerminated(Now(wiring, null)) && BusLine.IsTerminated(Now(wiring, BusLine.TerminationOhm));

    // What is left of the terminations, with one of the stand-in's or without.
    private static decimal? Now(BenchBus wiring, decimal? standIn) =>
        BusLine.Parallel(wiring.Terminations.Where(t => !t.Removed).Select(t => t.Ohm).Concat(standIn is { } ohm ? [ohm] : []));
}
