using Locum.Binding;

namespace Locum.Schema;

/// <summary>The keys of a description: one line each, in the order in which they are written.</summary>
internal static class ModuleSections
{
    private static readonly Section s_bus = new()
    {
        Name = "bus",
        What = "a bus",
        Description = "A bus the module was on.",
        Keys =
        [
            new("rate", Shapes.Rate, "Bit rate.", "500 kbit/s") { Required = true },
            new("sample point", Shapes.Percent, "Where in the bit the level is read.", "87.5 %") { Default = "87.5 %" },
            new("data rate", Shapes.Rate, "Bit rate of the data phase; with it the bus carries CAN FD.", "2 Mbit/s"),
            new("data sample point", Shapes.Percent, "The same in the data phase.", "75 %") { Default = "75 %", Needs = "data rate" },
        ],
    };

    private static readonly Section s_input = new()
    {
        Name = "input",
        What = "an input",
        Description = "A wire that modes depend on.",
        Keys =
        [
            new("kind", new Words("wake line", "supply", "line"), "A wake line may wake a sleeping board.", "wake line") { Default = "line" },
            new("active", new Words("high", "low"), "The level that counts as active.", "high") { Required = true },
            new("debounce", Shapes.Time, "A level counts when it has been steady for this long.", "20 ms") { Default = "0 ms" },
        ],
    };

    private static readonly Section s_comparison = new()
    {
        Name = "comparison",
        What = "a comparison",
        Description = "What a received field is compared with.",
        OneOf = ["at least", "below", "not"],
        Keys =
        [
            new("at least", Shapes.Value, "Holds from this value on.", "90"),
            new("below", Shapes.Value, "Holds below this value.", "-20"),
            new("not", Shapes.Value, "Holds for every other value.", "run"),
        ],
    };

    private static readonly Section s_condition = new()
    {
        Name = "condition",
        What = "a condition",
        Description = "A way out of a mode: '<input>: active', '<frame>: lost', '<frame>.<field>: <value>', all of which must hold.",
        Open = new Either(new Words("active", "inactive", "received", "lost"), Shapes.Value, new Mapping(s_comparison)),
        Keys = [new("then", Shapes.Text, "The mode that follows.", "running") { Required = true }],
    };

    private static readonly Section s_mode = new()
    {
        Name = "mode",
        What = "a mode",
        Description = "A state of the module. The first one is entered at power-on.",
        Keys =
        [
            new("sleep", Shapes.YesNo, "Nothing is sent and the board may sleep deeply.", "yes") { Default = "no" },
            new("for", Shapes.Time, "How long the mode lasts by itself; needs 'then'.", "120 ms") { Needs = "then" },
            new("then", Shapes.Text, "The mode that follows when the time is over; needs 'for'.", "running") { Needs = "for" },
            new("until", Shapes.OneOrMany(new Mapping(s_condition), ModeBinder.MostExits), "Conditions that end the mode, tried in order before the time.", "{run-line: active, then: waking}"),
        ],
    };

    private static readonly Section s_outputCondition = new()
    {
        Name = "output-condition",
        What = "a condition",
        Description = "'<input>: active', '<frame>: lost', '<frame>.<field>: <value>', all of which must hold.",
        Open = new Either(new Words("active", "inactive", "received", "lost"), Shapes.Value, new Mapping(s_comparison)),
        Keys = [],
    };

    private static readonly Section s_output = new()
    {
        Name = "output",
        What = "an output",
        Description = "A pin that switches a dummy load or a line.",
        Keys =
        [
            new("active", new Words("high", "low"), "The level that switches on.", "high") { Required = true },
            new("in", Shapes.OneOrMany(Shapes.Text), "Modes in which it is wanted; all but the sleeping ones.", "[opening, closing]"),
            new("while", Shapes.OneOrMany(new Mapping(s_outputCondition), OutputBinder.MostConditions), "Besides, one of these conditions must hold.", "{polarity: active}"),
            new("after", Shapes.Time, "From being wanted to being on.", "1 s") { Default = "0 s" },
            new("for", Shapes.Time, "How long it is on at most; until it is wanted anew.", "2 s"),
            new("within", Shapes.Time, "From power-on to its first being on; a board that starts later is refused.", "100 ms"),
        ],
    };

    /// <summary>A description file.</summary>
    public static Section Root { get; } = new()
    {
        Name = "description",
        What = "a description",
        Description = "What a removed module did on its buses.",
        Block = true,
        Keys =
        [
            new("locum", Shapes.Version, "Version of the description language.", "1") { Required = true },
            new("module", Shapes.Name, "Name of the module.", "cab-heat") { Required = true },
            new("summary", Shapes.Text, "A sentence for people.", "Cab heat controller; the body computer logs a fault when it is silent"),
            new("hazard", new Words("none", "restraint", "braking", "steering", "traction", "high-voltage"), "The class of harm that the absence of the module can do.", "none") { Required = true },
            new("acknowledge", Shapes.Text, "Who accepted the hazard and why; needed for every class but none.", "Depot workshop, entry 14 of the works book"),
            new("first frame within", Shapes.Time, "From power-on to the end of the module's first frame; a board that starts later is refused.", "120 ms"),
            new("buses", Shapes.Named(new Mapping(s_bus), BusBinder.Most), "Buses by name.", "{body: {rate: 500 kbit/s}}") { Required = true },
            new("inputs", Shapes.Named(new Mapping(s_input), InputBinder.Most), "Wired inputs by name.", "{run-line: {kind: wake line, active: high}}"),
            new("outputs", Shapes.Named(new Mapping(s_output), OutputBinder.Most), "Pins that switch dummy loads and lines, by name.", "{first-load: {active: high, in: running}}"),
            new("receives", Shapes.Named(new Mapping(ReceiveSections.Frame), ReceiveBinder.Most), "Frames of other nodes that the module listens to, by name.", "{DriveSpeed: {id: 0x155, timeout: 200 ms}}"),
            new("modes", Shapes.Named(new Either(new Mapping(s_mode), new Nothing()), ModeBinder.Most), "Modes by name; without this key there is one, 'running'.", "{asleep: {sleep: yes, until: {run-line: active, then: running}}, running: {}}"),
            new("counters", Shapes.Named(new Mapping(CounterSections.SharedCounter), CounterBinder.Most), "Counters that several fields share, by name.", "{pair: {to: 255}}"),
            new("frames", new MapOf(new Mapping(FrameSections.Frame), 1, FrameBinder.Most, NameRule.Name, true), "Frames by name.", "{HeatStatus: {id: 0x2D1, length: 8, every: 20 ms}}") { Required = true },
            new("diagnostics", Shapes.Named(new Mapping(ChannelSections.Channel), ChannelBinder.Most), "Channels on which testers are answered, by name.", "{workshop: {request: 0x7E0, response: 0x7E8}}"),
            new("j1939", Shapes.Named(new Mapping(NodeSections.Node), NodeBinder.Most), "Nodes of SAE J1939 that the module is, by name.", "{pump: {address: 0x17, name: {function: 25}}}"),
            new("bench", new Mapping(BenchSections.Bench), "What is built around the board: resistors, loads, supply, wiring.", "{ambient: 60 degC}"),
        ],
    };
}
