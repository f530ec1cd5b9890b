using Locum.Wire;

namespace Locum.Schema;

/// <summary>The keys of fields: one line each, in the order in which they are written.</summary>
internal static class FieldSections
{
    private static readonly Key[] s_place =
    [
        new("bit", new Whole(0, (FdLengths.Most * 8) - 1), "Place of the least significant bit: byte × 8 + bit.", "16") { Required = true },
        new("bits", new Whole(1, 64), "Width.", "8") { Required = true },
        new("order", new Words("little", "big"), "little: grows into the byte behind; big: into the byte before.", "big") { Default = "little" },
        new("signed", Shapes.YesNo, "Two's complement.", "yes") { Default = "no" },
        new("scale", Shapes.Number, "Physical value of one step.", "0.5") { Default = "1" },
        new("offset", Shapes.Number, "Physical value of raw 0.", "-40") { Default = "0" },
        new("unit", Shapes.Text, "Unit of the physical value, for people.", "degC"),
        new("names", new Either(new MapOf(new Whole(long.MinValue, long.MaxValue), 0, int.MaxValue, NameRule.Free, false), new Nothing()), "Names of raw values.", "{off: 0, on: 4}"),
    ];

    private static readonly Section s_follow = new()
    {
        Name = "follow",
        What = "'follow'",
        Description = "Follows a received field: its physical value · gain + add, within limits.",
        Keys =
        [
            new("from", Shapes.Text, "The received field, as FRAME.FIELD.", "DriveSpeed.speed") { Required = true },
            new("gain", Shapes.Number, "Factor of the physical value.", "0.621371") { Default = "1" },
            new("add", Shapes.Number, "Added to the physical value.", "32") { Default = "0" },
            new("at least", Shapes.Value, "Lower limit, physical.", "0"),
            new("at most", Shapes.Value, "Upper limit, physical.", "100"),
            new("delay", Shapes.Time, "How late it follows.", "100 ms"),
            new("slew", Shapes.Number, "The fastest change, physical, per second.", "5"),
        ],
    };

    /// <summary>A field of a frame that the module sends.</summary>
    public static Section Field { get; } = new()
    {
        Name = "field",
        What = "a field",
        Description = "Payload bits with one meaning. Without a source of its value the bits of 'base' stay.",
        Keys =
        [
            .. s_place,
            new("value", new Either(Shapes.Value, new MapOf(Shapes.Value, 0, int.MaxValue, NameRule.Free, false)), "A physical value or a name from 'names'; or one per mode, with 'other' for the rest.", "{waking: 1, other: 4}"),
            new("follow", new Either(Shapes.Text, new Mapping(s_follow)), "A received field whose physical value is sent, as FRAME.FIELD.", "DriveSpeed.speed") { Needs = "lost" },
            new("ramp", new Mapping(LiveSections.Ramp), "A value that goes from one to another with the releases of the frame.", "{from: 0, to: 100, over: 5 s}"),
            new("noise", new Mapping(LiveSections.Noise), "A value that wanders with the releases of the frame.", "{around: 21, span: 0.5, seed: 7}"),
            new("formula", Shapes.Text, "Computes the raw value on 32-bit signed integers; see README.", "\"clamp(Drive.speed * 5 / 18, 0, 250)\""),
            new("lost", Shapes.Value, "The value while a frame is lost that the field follows or its formula reads.", "0"),
            new("counter", new Either(Shapes.Text, new Mapping(CounterSections.Counter)), "A counter of its own, or the name of a shared one.", "{from: 0, to: 14}"),
            new("checksum", new Mapping(ChecksumSections.Checksum), "Computed over the payload when the frame is sent.", "{rule: crc8-sae-j1850, over: 0..6}"),
        ],
    };

    /// <summary>A field of a frame that the module listens to.</summary>
    public static Section Received { get; } = new()
    {
        Name = "received-field",
        What = "a received field",
        Description = "Payload bits of another node's frame.",
        Keys = s_place,
    };
}
