using Locum.Binding;

namespace Locum.Schema;

/// <summary>The keys of nodes of SAE J1939: one line each, in the order in which they are written.</summary>
internal static class NodeSections
{
    private static readonly Section s_name = new()
    {
        Name = "node-name",
        What = "a NAME",
        Description = "The NAME of a node (SAE J1939-81).",
        Keys =
        [
            new("identity", new Whole(0, 0x1F_FFFF), "Identity number, 21 bits.", "417") { Default = "0" },
            new("manufacturer", new Whole(0, 0x7FF), "Manufacturer code, 11 bits.", "0") { Default = "0" },
            new("ecu instance", new Whole(0, 7), "Which of several controllers, 3 bits.", "0") { Default = "0" },
            new("function instance", new Whole(0, 31), "Which of several of one function, 5 bits.", "0") { Default = "0" },
            new("function", new Whole(0, 255), "Function, 8 bits.", "25") { Default = "0" },
            new("vehicle system", new Whole(0, 127), "Vehicle system, 7 bits.", "0") { Default = "0" },
            new("vehicle system instance", new Whole(0, 15), "Which of several such systems, 4 bits.", "0") { Default = "0" },
            new("industry group", new Whole(0, 7), "Industry group, 3 bits; 0 is global.", "0") { Default = "0" },
            new("arbitrary address", Shapes.YesNo, "The top bit; the address stays as it is described all the same.", "no") { Default = "no" },
        ],
    };

    private static readonly Section s_answer = new()
    {
        Name = "group-answer",
        What = "an answer",
        Description = "What is sent when a parameter group is asked for.",
        OneOf = ["text", "bytes", "frame"],
        Keys =
        [
            new("text", Shapes.Text, "ASCII characters; more than 8 go in packets.", "DEPOT*LIFT-2*000417*"),
            new("bytes", Shapes.Bytes, "Bytes; more than 8 go in packets.", "01 02 03 04"),
            new("frame", Shapes.Text, "A frame of this description, sent once more.", "PumpLeft"),
        ],
    };

    /// <summary>A node of SAE J1939.</summary>
    public static Section Node { get; } = new()
    {
        Name = "node",
        What = "a node",
        Description = "An address that the module claims, and the requests that it answers (SAE J1939-21, J1939-81).",
        Block = true,
        Keys =
        [
            new("bus", Shapes.Text, "The node's bus; needed when there are several.", "body"),
            new("address", new Whole(0, NodeBinder.LastAddress), "Its fixed address, the lowest byte of its identifiers.", "0x17") { Required = true },
            new("in", Shapes.OneOrMany(Shapes.Text), "Modes in which it takes part; all but sleeping ones by default.", "[running]"),
            new("name", new Either(new Mapping(s_name), Shapes.Bytes), "Its NAME: by parts, or 8 bytes as sent.", "{identity: 417, function: 25}") { Required = true },
            new("spacing", Shapes.Time, "Distance between packets to everybody, 50 to 200 ms.", "100 ms") { Default = "50 ms" },
            new("answers", new Either(new MapOf(new Mapping(s_answer), 0, GroupAnswerBinder.Most, NameRule.Free, true), new Nothing()), "Answers by parameter group number.", "{0xFEEB: {text: DEPOT*LIFT-2*000417*}}"),
        ],
    };
}
