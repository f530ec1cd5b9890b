using Locum.Binding;

namespace Locum.Schema;

/// <summary>The keys of the bench: one line each, in the order in which they are written.</summary>
internal static class BenchSections
{
    private static readonly Section s_supply = new()
    {
        Name = "bench-supply",
        What = "the supply",
        Description = "The supply of loads and board.",
        Keys =
        [
            new("from", Shapes.Voltage, "Lowest voltage.", "9 V") { Default = "9 V" },
            new("to", Shapes.Voltage, "Highest voltage.", "16 V") { Default = "16 V" },
            new("nominal", Shapes.Voltage, "The voltage at which currents are stated.", "13.5 V") { Default = "13.5 V" },
        ],
    };

    private static readonly Section s_pulse = new()
    {
        Name = "bench-pulse",
        What = "a pulse",
        Description = "A current that comes again and again.",
        Keys =
        [
            new("current", Shapes.Current, "Its current.", "1.5 A") { Required = true },
            new("for", Shapes.Time, "How long it flows.", "10 ms") { Required = true },
            new("every", Shapes.Time, "From one to the next.", "1 s") { Required = true },
        ],
    };

    private static readonly Section s_derating = new()
    {
        Name = "bench-derating",
        What = "a derating",
        Description = "What power a part may carry in warm air, linear between the two.",
        Keys =
        [
            new("full to", Shapes.Temperature, "All of its rating up to here.", "70 degC") { Default = "70 degC" },
            new("zero at", Shapes.Temperature, "Nothing from here on.", "155 degC") { Default = "155 degC" },
        ],
    };

    private static readonly Section s_resistor = new()
    {
        Name = "bench-resistor",
        What = "a resistor",
        Description = "A resistor that stands in for a part whose resistance is watched.",
        Keys =
        [
            new("at least", Shapes.Resistance, "Lower end of what the watching circuit accepts.", "2 ohm") { Required = true },
            new("at most", Shapes.Resistance, "Upper end of it.", "3.2 ohm") { Required = true },
            new("tolerance", Shapes.Percent, "Tolerance of the parts.", "1 %") { Default = "1 %" },
            new("series", new Words("E6", "E12", "E24", "E48", "E96", "E192"), "Values per decade (IEC 60063); E24, or E96 for parts below 1 %.", "E96"),
            new("current", Shapes.Current, "Steady current through it.", "50 mA"),
            new("voltage", Shapes.Voltage, "Steady voltage across it.", "12 V"),
            new("pulse", new Mapping(s_pulse), "A current that comes again and again.", "{current: 1.5 A, for: 10 ms, every: 1 s}"),
            new("derating", new Mapping(s_derating), "What the parts may carry in warm air.", "{full to: 70 degC, zero at: 155 degC}"),
        ],
    };

    private static readonly Section s_stage = new()
    {
        Name = "bench-stage",
        What = "a stage",
        Description = "A current from a time on.",
        Keys =
        [
            new("at", Shapes.Time, "From switching on; the first stage is at 0.", "1 s") { Default = "0 s" },
            new("current", Shapes.Current, "At the nominal supply.", "2 A") { Required = true },
        ],
    };

    private static readonly Section s_inrush = new()
    {
        Name = "bench-inrush",
        What = "an inrush",
        Description = "How the original begins while it is cold or stands still.",
        Keys =
        [
            new("times", Shapes.Number, "In times of the first stage's current; 10 for filaments, 6 for motors.", "10"),
            new("settles", Shapes.Time, "When it is within 5 %; 50 ms for filaments, 100 ms for motors.", "50 ms"),
        ],
    };

    private static readonly Section s_wire = new()
    {
        Name = "bench-wire",
        What = "a wire",
        Description = "Stranded copper, there and back.",
        Keys =
        [
            new("length", Shapes.Length, "One way.", "3 m") { Required = true },
            new("section", Shapes.CrossSection, "Its cross-section.", "0.75 mm2") { Required = true },
        ],
    };

    private static readonly Section s_load = new()
    {
        Name = "bench-load",
        What = "a load",
        Description = "A load whose current is watched, in stages.",
        Keys =
        [
            new("kind", new Words("resistor", "filament", "motor"), "Filaments and motors begin with an inrush.", "motor") { Default = "resistor" },
            new("stages", new ListOf(new Mapping(s_stage), BenchLoadBinder.MostStages, 1), "Its current over time.", "[{at: 0 s, current: 2 A}, {at: 1 s, current: 0.5 A}]") { Required = true },
            new("for", Shapes.Time, "Switched off after this time; without it it stays on.", "3 s"),
            new("every", Shapes.Time, "Least distance of two starts.", "30 s"),
            new("inrush", new Mapping(s_inrush), "How the original begins.", "{times: 10, settles: 50 ms}"),
            new("wire", new Mapping(s_wire), "The wire to it.", "{length: 3 m, section: 0.75 mm2}"),
        ],
    };

    private static readonly Section s_dip = new()
    {
        Name = "bench-dip",
        What = "a dip",
        Description = "A dip of the supply.",
        Keys =
        [
            new("to", Shapes.Voltage, "How deep.", "4.5 V") { Required = true },
            new("for", Shapes.Time, "How long.", "100 ms") { Required = true },
        ],
    };

    private static readonly Section s_holdUp = new()
    {
        Name = "bench-hold-up",
        What = "a hold-up",
        Description = "A capacitor that feeds the board while the supply dips.",
        OneOf = ["current", "power"],
        Keys =
        [
            new("current", Shapes.Current, "Drawn through a linear regulator.", "80 mA"),
            new("power", Shapes.Power, "Drawn by a switching converter.", "500 mW"),
            new("before", Shapes.Voltage, "Supply before the dip; the lowest of 'supply' by default.", "12 V"),
            new("dip", new Mapping(s_dip), "How deep and how long.", "{to: 4.5 V, for: 100 ms}") { Required = true },
            new("lowest", Shapes.Voltage, "The regulator's lowest input.", "5.5 V") { Required = true },
            new("diode", Shapes.Voltage, "Drop of the diode in front.", "0.5 V") { Default = "0.7 V" },
            new("tolerance", Shapes.Percent, "How much less than marked the capacitor may have.", "20 %") { Default = "20 %" },
            new("fitted", Shapes.Capacitance, "The capacitor that is there already.", "2200 uF"),
        ],
    };

    private static readonly Section s_termination = new()
    {
        Name = "bench-termination",
        What = "a termination",
        Description = "A resistor between the wires of a bus.",
        Keys =
        [
            new("resistance", Shapes.Resistance, "Its value.", "120 ohm") { Default = "120 ohm" },
            new("removed", Shapes.YesNo, "It went with the module.", "yes") { Default = "no" },
        ],
    };

    private static readonly Section s_bus = new()
    {
        Name = "bench-bus",
        What = "the wiring of a bus",
        Description = "A bus as it is wired.",
        Keys =
        [
            new("terminations", new Either(new MapOf(new Either(new Mapping(s_termination), new Nothing()), 0, BenchWiringBinder.MostTerminations, NameRule.Free, false), new Nothing()), "Nodes that carried a termination, by name, as the vehicle was.", "{body-computer: {resistance: 120 ohm}, seat-mat: {removed: yes}}"),
            new("stand-in", Shapes.Resistance, "The termination that the board carries.", "120 ohm"),
            new("length", Shapes.Length, "From end to end.", "12 m"),
            new("stub", Shapes.Length, "From the bus to the board.", "30 cm"),
        ],
    };

    private static readonly Section s_pin = new()
    {
        Name = "bench-pin",
        What = "a pin",
        Description = "A pin of the plug.",
        Keys =
        [
            new("signal", Shapes.Text, "What is on it.", "supply") { Required = true },
            new("wire", Shapes.CrossSection, "Cross-section of its wire.", "0.75 mm2"),
            new("colour", Shapes.Text, "Colour of its wire.", "red"),
            new("part", Shapes.Text, "The resistor, load or bus behind it.", "seat-loop"),
        ],
    };

    private static readonly Section s_connector = new()
    {
        Name = "bench-connector",
        What = "a connector",
        Description = "The plug of the module.",
        Keys =
        [
            new("type", Shapes.Text, "What a supplier calls it.", "6-way, 2.8 mm blades"),
            new("pins", new Either(new MapOf(new Mapping(s_pin), 0, BenchWiringBinder.MostPins, NameRule.Free, true), new Nothing()), "Pins by their marks.", "{1: {signal: supply}}"),
        ],
    };

    /// <summary>The bench.</summary>
    public static Section Bench { get; } = new()
    {
        Name = "bench",
        What = "the bench",
        Description = "What is built around the board; no part of the firmware.",
        Block = true,
        Keys =
        [
            new("ambient", Shapes.Temperature, "Air around the parts.", "60 degC") { Default = "60 degC" },
            new("supply", new Mapping(s_supply), "The supply.", "{from: 9 V, to: 16 V, nominal: 13.5 V}"),
            new("resistors", Shapes.Named(new Mapping(s_resistor), BenchResistorBinder.Most), "Resistors that stand in for parts, by name.", "{seat-loop: {at least: 2 ohm, at most: 3.2 ohm}}"),
            new("loads", Shapes.Named(new Mapping(s_load), BenchLoadBinder.Most), "Loads whose current is watched, by name.", "{flap-motor: {stages: [{current: 2 A}]}}"),
            new("hold-up", new Mapping(s_holdUp), "A capacitor for dips of the supply.", "{current: 80 mA, dip: {to: 4.5 V, for: 100 ms}, lowest: 5.5 V}"),
            new("buses", new Either(new MapOf(new Mapping(s_bus), 0, BusBinder.Most, NameRule.Free, true), new Nothing()), "Wiring by the names of the buses.", "{body: {stub: 30 cm}}"),
            new("connector", new Mapping(s_connector), "The plug of the module.", "{type: 6-way, pins: {1: {signal: supply}}}"),
        ],
    };
}
