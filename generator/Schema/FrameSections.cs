using Locum.Binding;
using Locum.Protection;
using Locum.Wire;

namespace Locum.Schema;

/// <summary>The keys of frames: one line each, in the order in which they are written.</summary>
internal static class FrameSections
{
    private static readonly Shape s_fields = Shapes.Named(new Mapping(FieldSections.Field), FieldBinder.MostFd);

    private static readonly Section s_page = new()
    {
        Name = "page",
        What = "a page",
        Description = "One of the payloads that a frame sends in turn.",
        Keys =
        [
            new("base", Shapes.Bytes, "Payload before any field is written; that of the frame by default.", "02 55 00 00"),
            new("fields", s_fields, "Fields of this page only.", "{page: {bit: 0, bits: 2, value: 1}}"),
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

    /// <summary>A frame that the module sends.</summary>
    public static Section Frame { get; } = new()
    {
        Name = "frame",
        What = "a frame",
        Description = "A frame that the module sends: by period, by events, or both.",
        Block = true,
        Keys =
        [
            new("bus", Shapes.Text, "The bus it is sent on; needed when there are several.", "body"),
            new("id", Shapes.Identifier, "Identifier.", "0x2D1") { Required = true },
            new("id kind", Shapes.IdentifierKind, "29 bit is the default above 0x7FF.", "29 bit"),
            new("format", Shapes.Format, "fd needs a bus with a data rate.", "fd") { Default = "classic" },
            new("switch rate", Shapes.YesNo, "A CAN FD frame switches to the data rate.", "no") { Default = "yes" },
            new("length", new Whole(0, FdLengths.Most), "Data bytes: 0 to 8; with CAN FD also 12, 16, 20, 24, 32, 48 and 64.", "8") { Required = true },
            new("every", new Either(Shapes.Time, new MapOf(Shapes.Time, 0, int.MaxValue, NameRule.Free, false)), "Period; or one per mode, with 'other' for the rest.", "20 ms") { RequiredUnless = "on" },
            new("offset", Shapes.Time, "From entering a mode of the frame to its first release.", "7 ms") { Default = "0 ms" },
            new("burst", new Mapping(SendingSections.Burst), "The first frames come faster.", "{first: 5, every: 10 ms}") { Needs = "every" },
            new("on", Shapes.OneOrMany(new Mapping(SendingSections.Event)), "Events that send the frame, with or without a period.", "[{mode: running}, {input: door}]"),
            new("repeat", new Whole(1, 65_535), "Frames for each event.", "3") { Default = "1", Needs = "on" },
            new("spacing", Shapes.Time, "Distance between repeated frames; needed with 'repeat'.", "10 ms") { Needs = "on" },
            new("gap", Shapes.Time, "Least distance between two frames of events.", "20 ms") { Default = "0 ms", Needs = "on" },
            new("in", Shapes.OneOrMany(Shapes.Text), "Modes in which it is sent; all but sleeping ones by default.", "[waking, running]"),
            new("base", Shapes.Bytes, "Payload before any field is written; zeros by default.", "00 00 3C 7F 00 00 F0 00"),
            new("fields", s_fields, "Fields by name.", "{alive: {bit: 52, bits: 4, counter: {to: 14}}}"),
            new("protect", new Mapping(s_protect), "End-to-end protection (AUTOSAR profiles): adds constants, a counter and a CRC.", "{profile: 5, data id: 0x1234}"),
            new("pages", new ListOf(new Mapping(s_page), PageBinder.Most), "Payloads sent in turn, each with fields of its own.", "[{fields: {page: {bit: 0, bits: 2, value: 0}}}, {base: 01 00}]"),
            new("payloads", new ListOf(Shapes.Bytes, PageBinder.Most), "Payloads sent in turn, as plain bytes.", "[00 01, 00 02]"),
            new("then", new Words("repeat", "hold"), "After the last payload: the first again, or the last one on and on.", "hold") { Default = "repeat" },
        ],
    };
}
