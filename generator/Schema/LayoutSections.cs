using Locum.Binding;

namespace Locum.Schema;

/// <summary>The keys of a layout file: one line each, in the order in which they are written.</summary>
internal static class LayoutSections
{
    private static readonly Shape s_base = new Words("hex", "decimal");

    private static readonly Shape s_role = new Words(
        "time", "date", "fraction", "id", "extended", "bus", "length", "data", "data...", "byte", "kind", "remote", "error", "fd",
        "switch rate", "error passive", "other");

    private static readonly Shape s_names = Shapes.OneOrMany(Shapes.Text, LayoutBinder.MostColumns);

    private static readonly Section s_byName = new()
    {
        Name = "named-columns",
        What = "",
        Description = "Columns by the names that the header gives them.",
        Keys =
        [
            new("time", s_names, "Time: a number, a time of day, or date and time of day.", "Time Stamp"),
            new("date", s_names, "Date to a time of day in another column.", "Date"),
            new("fraction", s_names, "Digits behind the decimal mark of the time.", "Microseconds"),
            new("id", s_names, "Identifier.", "ID"),
            new("extended", s_names, "Whether the identifier has 29 bits.", "Extended"),
            new("bus", s_names, "Name or number of the bus.", "Channel"),
            new("length", s_names, "Number of data bytes.", "DLC"),
            new("data", s_names, "All data bytes in one column, or a list of columns with one each.", "[D1, D2, D3]"),
            new("data...", s_names, "Column of the first data byte; the others follow.", "D1"),
            new("byte", s_names, "Columns with one data byte each.", "[D1, D2, D3]"),
            new("kind", s_names, "Words for the kind of frame, such as d and r.", "Type"),
            new("remote", s_names, "Whether it is a remote frame.", "RTR"),
            new("error", s_names, "Whether it is an error.", "Error"),
            new("fd", s_names, "Whether it is CAN FD.", "FDF"),
            new("switch rate", s_names, "Whether the rate was switched.", "BRS"),
            new("error passive", s_names, "Whether the sender was error passive.", "ESI"),
            new("other", s_names, "Columns that do not matter.", "[Comment]"),
        ],
    };

    private static readonly Section s_time = new()
    {
        Name = "layout-time",
        What = "the time of a layout",
        Description = "How times are written; what is not said is recognised.",
        Keys =
        [
            new("unit", new Words("s", "ms", "us", "ns", "clock"), "Unit of numbers, or clock for times of day.", "ms"),
            new("decimal", new Words("point", "comma"), "Decimal mark.", "comma"),
        ],
    };

    private static readonly Section s_numbers = new()
    {
        Name = "layout-numbers",
        What = "the numbers of a layout",
        Description = "How numbers are written; what is not said is recognised. 0x in front always means hexadecimal.",
        Keys =
        [
            new("id", s_base, "Identifiers.", "hex"),
            new("length", s_base, "Lengths.", "decimal"),
            new("data", s_base, "Data bytes.", "hex"),
        ],
    };

    /// <summary>A layout file.</summary>
    public static Section Root { get; } = new()
    {
        Name = "layout",
        What = "a layout",
        Description = "What the columns of a table of frames mean; what is not said is recognised.",
        Block = true,
        Keys =
        [
            new("locum", Shapes.Version, "Version of the description language.", "1") { Required = true },
            new("layout", Shapes.Text, "A name or a sentence.", "workshop logger") { Required = true },
            new("separator", new Patterned(@"^(comma|semicolon|tab|bar|blanks|[!#-*,/:-@\[-`{-~])$"), "comma, semicolon, tab, bar, blanks, or a single character.", "semicolon"),
            new("skip", new Whole(0, LayoutBinder.MostSkipped), "Lines in front of everything else.", "3") { Default = "0" },
            new("comment", Shapes.Text, "How lines start that are no rows.", "\"#\""),
            new("header", Shapes.YesNo, "Whether the first row names the columns.", "yes"),
            new("columns", new Either(new Mapping(s_byName), new ListOf(s_role, LayoutBinder.MostColumns)), "Columns in their order, or the names that the header gives them.", "[time, id, length, data...]"),
            new("time", new Mapping(s_time), "How times are written.", "{unit: ms}"),
            new("numbers", new Mapping(s_numbers), "How numbers are written.", "{id: hex, length: decimal, data: hex}"),
            new("id kind", new Words("by value", "by digits", "11 bit", "29 bit"), "How 29-bit identifiers are told where no column says it.", "by digits"),
            new("bus", Shapes.Text, "Name of the bus where no column names it.", "body"),
        ],
    };
}
