using Locum.Binding;
using Locum.Protection;
using Locum.Wire;

namespace Locum.Schema;

/// <summary>The keys of frames and what is in them: one line each, in the order in which they are written.</summary>
internal static class FrameSections
{
    private static readonly Key[] s_counterKeys =
    [
        new("from", new Whole(0, uint.MaxValue), "The value before the counter wraps; above 'to' it counts down.", "0") { Default = "0" },
        new("to", new Whole(0, uint.MaxValue), "The last value; a field's own counter fills the field by default.", "14"),
        new("step", new Whole(1, uint.MaxValue), "Distance between values.", "1") { Default = "1" },
        new("start", new Whole(0, uint.MaxValue), "The first value at power-on; 'from' by default.", "0"),
        new("advance", new Words("sent", "slot"), "sent: when the controller has accepted the frame; slot: also when a release was skipped.", "sent") { Default = "sent" },
        new("restart", new Words("never", "entry"), "entry: returns to 'start' when a frame with the counter starts sending.", "entry") { Default = "never" },
    ];

    /// <summary>A field's own counter.</summary>
    public static Section Counter { get; } = new()
    {
        Name = "counter",
        What = "a counter",
        Description = "A number that moves with the frames that carry it.",
        Keys = s_counterKeys,
    };

    /// <summary>A counter under 'counters', which has no field to take its last value from.</summary>
    public static Section SharedCounter { get; } = Counter with
    {
        Name = "shared-counter",
        Keys = [.. s_counterKeys.Select(k => k.Name is "to" ? k with { Required = true } : k)],
    };

    private static readonly Section s_field = new()
    {
        Name = "field",
        What = "a field",
        Description = "Payload bits with one meaning. Without 'value', 'counter' and 'checksum' the bits of 'base' stay.",
        Keys =
        [
            new("bit", new Whole(0, (FdLengths.Most * 8) - 1), "Place of the least significant bit: byte × 8 + bit.", "16") { Required = true },
            new("bits", new Whole(1, 64), "Width.", "8") { Required = true },
            new("order", new Words("little", "big"), "little: grows into the byte behind; big: into the byte before.", "big") { Default = "little" },
            new("signed", Shapes.YesNo, "Two's complement.", "yes") { Default = "no" },
            new("scale", Shapes.Number, "Physical value of one step.", "0.5") { Default = "1" },
            new("offset", Shapes.Number, "Physical value of raw 0.", "-40") { Default = "0" },
            new("unit", Shapes.Text, "Unit of the physical value, for people.", "degC"),
            new("names", new Either(new MapOf(new Whole(long.MinValue, long.MaxValue), 0, int.MaxValue, NameRule.Free, false), new Nothing()), "Names of raw values.", "{off: 0, on: 4}"),
            new("value", new Either(Shapes.Value, new MapOf(Shapes.Value, 0, int.MaxValue, NameRule.Free, false)), "A physical value or a name from 'names'; or one per mode, with 'other' for the rest.", "{waking: 1, other: 4}"),
            new("counter", new Either(Shapes.Text, new Mapping(Counter)), "A counter of its own, or the name of a shared one.", "{from: 0, to: 14}"),
            new("checksum", new Mapping(ChecksumSections.Checksum), "Computed over the payload when the frame is sent.", "{rule: crc8-sae-j1850, over: 0..6}"),
        ],
    };

    private static readonly Section s_protect = new()
    {
        Name = "protect",
        What = "a protection",
        Description = "End-to-end protection of the whole payload.",
        Keys =
        [
            new("profile", new Words([.. E2EProfile.All.Select(p => p.Name)]), "Number, and letter of the variant.", "1A") { Required = true },
            new("data id", new Whole(0, uint.MaxValue), "The data ID; not with profiles 2 and 22.", "0x123"),
            new("data ids", Shapes.Bytes, "16 data IDs, one for each counter value, with profiles 2 and 22.", "01 02 03 04 05 06 07 08 09 0A 0B 0C 0D 0E 0F 10"),
            new("offset", new Whole(0, FdLengths.Most), "Bytes in front of the profile's header.", "8") { Default = "0" },
            new("start", new Whole(0, uint.MaxValue), "Counter of the first frame: 1 with profiles 2 and 22, otherwise 0.", "0"),
        ],
    };

    public static Section Frame { get; } = new()
    {
        Name = "frame",
        What = "a frame",
        Description = "A cyclic frame.",
        Block = true,
        Keys =
        [
            new("bus", Shapes.Text, "The bus it is sent on; needed when there are several.", "body"),
            new("id", Shapes.Identifier, "Identifier.", "0x2D1") { Required = true },
            new("id kind", Shapes.IdentifierKind, "29 bit is the default above 0x7FF.", "29 bit"),
            new("format", Shapes.Format, "Classic CAN or CAN FD; fd needs a bus with a data rate.", "fd") { Default = "classic" },
            new("switch rate", Shapes.YesNo, "A CAN FD frame goes on at the data rate behind its header.", "no") { Default = "yes" },
            new("length", new Whole(0, FdLengths.Most), "Data bytes: 0 to 8; with CAN FD also 12, 16, 20, 24, 32, 48, 64.", "8") { Required = true },
            new("every", Shapes.Time, "Period.", "20 ms") { Required = true },
            new("offset", Shapes.Time, "From entering a mode of the frame to its first release.", "7 ms") { Default = "0 ms" },
            new("in", Shapes.OneOrMany(Shapes.Text), "Modes in which it is sent; all but sleeping ones by default.", "[waking, running]"),
            new("base", Shapes.Bytes, "Payload before any field is written; zeros by default.", "00 00 3C 7F 00 00 F0 00"),
            new("fields", Shapes.Named(new Mapping(s_field), FieldBinder.MostFd), "Fields by name.", "{alive: {bit: 52, bits: 4, counter: {to: 14}}}"),
            new("protect", new Mapping(s_protect), "End-to-end protection (AUTOSAR profiles): adds constants, a counter and a CRC.", "{profile: 5, data id: 0x1234}"),
        ],
    };
}
