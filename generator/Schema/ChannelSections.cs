using Locum.Binding;
using Locum.Wire;

namespace Locum.Schema;

/// <summary>The keys of channels: one line each, in the order in which they are written.</summary>
internal static class ChannelSections
{
    private static readonly Section s_identifier = new()
    {
        Name = "data-identifier",
        What = "a data identifier",
        Description = "What a tester reads from a data identifier.",
        OneOf = ["text", "bytes"],
        Keys =
        [
            new("text", Shapes.Text, "ASCII characters.", "DEPOT0000000LOCO1"),
            new("bytes", Shapes.Bytes, "Bytes.", "01 02 03 04"),
            new("after", Shapes.Time, "How long it takes to read, if longer than 'answer after'.", "200 ms") { Default = "0 ms" },
        ],
    };

    /// <summary>A channel on which testers are answered.</summary>
    public static Section Channel { get; } = new()
    {
        Name = "channel",
        What = "a channel",
        Description = "A pair of identifiers on which a tester is answered (ISO 15765-2, ISO 14229-1).",
        Block = true,
        Keys =
        [
            new("bus", Shapes.Text, "The bus of requests and answers; needed when there are several.", "body"),
            new("id kind", Shapes.IdentifierKind, "29 bit is the default above 0x7FF.", "29 bit"),
            new("request", Shapes.Identifier, "Identifier of requests to this module.", "0x7E0") { Required = true },
            new("functional", Shapes.Identifier, "Identifier of requests to every module.", "0x7DF"),
            new("response", Shapes.Identifier, "Identifier of answers.", "0x7E8") { Required = true },
            new("format", Shapes.Format, "fd needs a bus with a data rate.", "fd") { Default = "classic" },
            new("switch rate", Shapes.YesNo, "CAN FD frames switch to the data rate.", "no") { Default = "yes" },
            new("frame length", new Whole(ChannelBinder.ClassicBytes, FdLengths.Most), "Bytes of the longest CAN FD frame of an answer: 8, 12, 16, 20, 24, 32, 48 or 64.", "32") { Default = "64" },
            new("in", Shapes.OneOrMany(Shapes.Text), "Modes in which it answers; all but sleeping ones by default.", "[running]"),
            new("padding", new Either(new Words("none"), new Whole(0, 255)), "Fills frames up to 8 bytes; longer ones are filled in any case.", "0xCC") { Default = "none" },
            new("block size", new Whole(0, 255), "Frames that a tester sends before it waits; 0 for all.", "8") { Default = "0" },
            new("separation", Shapes.Time, "Least distance between a tester's frames.", "5 ms") { Default = "0 ms" },
            new("answer after", Shapes.Time, "From the end of a request to its answer; above 50 ms 'response pending' comes first.", "2 ms") { Default = "0 ms" },
            new("sessions", Shapes.OneOrMany(new Words("default", "programming", "extended")), "Sessions that can be entered.", "[default, extended]") { Default = "default" },
            new("reset", new Words("accept", "refuse"), "What a request for a reset is answered.", "accept") { Default = "refuse" },
            new("security", new Words("unknown", "denied"), "What a request for security access is answered.", "denied") { Default = "unknown" },
            new("memory", new Words("none", "empty"), "The fault memory.", "empty") { Default = "none" },
            new("identifiers", new Either(new MapOf(new Mapping(s_identifier), 0, IdentifierBinder.Most, NameRule.Free, true), new Nothing()), "Data identifiers by number.", "{0xF190: {text: DEPOT0000000LOCO1}}"),
        ],
    };
}
