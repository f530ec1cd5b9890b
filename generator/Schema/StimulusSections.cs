namespace Locum.Schema;

/// <summary>The keys of a stimulus file: one line each, in the order in which they are written.</summary>
internal static class StimulusSections
{
    private static readonly Section s_change = new()
    {
        Name = "change",
        What = "a change",
        Description = "An input becomes active or inactive.",
        Keys =
        [
            new("at", Shapes.Time, "Time since power-on.", "400 ms") { Required = true },
            new("level", Shapes.Level, "The state from then on.", "active") { Required = true },
        ],
    };

    private static readonly Section s_payload = new()
    {
        Name = "traffic-change",
        What = "a change",
        Description = "Another payload from a time on.",
        Keys =
        [
            new("at", Shapes.Time, "Time since power-on.", "2 s") { Required = true },
            new("data", Shapes.Bytes, "The payload from then on; empty by default.", "00 FF"),
        ],
    };

    private static readonly Section s_traffic = new()
    {
        Name = "traffic",
        What = "another node's frame",
        Description = "Frames of another node.",
        OneOf = ["every", "at"],
        Keys =
        [
            new("id", Shapes.Identifier, "Identifier.", "0x0C4") { Required = true },
            new("id kind", Shapes.IdentifierKind, "29 bit is the default above 0x7FF.", "29 bit"),
            new("format", Shapes.Format, "Kind of frame.", "fd") { Default = "classic" },
            new("switch rate", Shapes.YesNo, "A CAN FD frame switches to the data rate.", "no") { Default = "yes" },
            new("every", Shapes.Time, "Period.", "10 ms"),
            new("at", Shapes.Time, "Time of a single frame, instead of a period.", "1 s"),
            new("offset", Shapes.Time, "Time of the first frame.", "3 ms") { Default = "0 ms", Needs = "every" },
            new("until", Shapes.Time, "No frame starts from then on; the end of the stimulus by default.", "5 s") { Needs = "every" },
            new("data", Shapes.Bytes, "Payload; empty by default.", "10 27 00 00"),
            new("changes", Shapes.OneOrMany(new Mapping(s_payload)), "Other payloads from some times on.", "[{at: 2 s, data: 00 FF}]") { Needs = "every" },
        ],
    };

    private static readonly Section s_reset = new()
    {
        Name = "reset",
        What = "a reset",
        Description = "The boards start anew.",
        Keys =
        [
            new("at", Shapes.Time, "Time since power-on.", "3 s") { Required = true },
            new("cause", new Words("power", "watchdog", "brown-out"), "Why they do.", "watchdog") { Required = true },
        ],
    };

    private static readonly Section s_block = Span("block", "a block", "A time in which no frame starts on the bus.");

    private static readonly Section s_stall = Span("stall", "a stall", "A time in which the board does not step.");

    /// <summary>A stimulus file.</summary>
    public static Section Root { get; } = new()
    {
        Name = "stimulus",
        What = "a stimulus",
        Description = "What happens around the boards while they are simulated.",
        Block = true,
        Keys =
        [
            new("locum", Shapes.Version, "Version of the description language.", "1") { Required = true },
            new("stimulus", Shapes.Text, "A name or a sentence.", "run line on, then off") { Required = true },
            new("for", Shapes.Time, "How long to run.", "12 s") { Required = true },
            new("inputs", Lists(s_change), "Changes by input; every input starts inactive.", "{run-line: [{at: 400 ms, level: active}]}"),
            new("traffic", Lists(s_traffic), "Frames of other nodes, by bus.", "{body: [{id: 0x0C4, every: 10 ms, data: 10 27}]}"),
            new("blocked", Lists(s_block), "Times in which no frame starts, by bus.", "{body: [{from: 7 s, until: 7.1 s}]}"),
            new("stalls", Shapes.OneOrMany(new Mapping(s_stall)), "Times in which the board does not step.", "[{from: 8 s, until: 8.05 s}]"),
            new("bus off", new Either(new MapOf(Shapes.OneOrMany(Shapes.Time), 0, int.MaxValue, NameRule.Free, true), new Nothing()), "Times at which the boards' controllers go bus-off, by bus.", "{body: [1 s, 2 s]}"),
            new("resets", Shapes.OneOrMany(new Mapping(s_reset)), "Times at which the boards start anew.", "[{at: 3 s, cause: watchdog}]"),
            new("clock", new Whole(0, uint.MaxValue), "What the 32-bit clock shows at power-on.", "0xFFFFFF00") { Default = "0" },
        ],
    };

    private static Shape Lists(Section section) =>
        new Either(new MapOf(Shapes.OneOrMany(new Mapping(section)), 0, int.MaxValue, NameRule.Free, true), new Nothing());

    private static Section Span(string name, string what, string description) => new()
    {
        Name = name,
        What = what,
        Description = description,
        Keys =
        [
            new("from", Shapes.Time, "Begin, since power-on.", "7 s") { Required = true },
            new("until", Shapes.Time, "End, since power-on.", "7.1 s") { Required = true },
        ],
    };
}
