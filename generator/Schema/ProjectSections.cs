using Locum.Binding;

namespace Locum.Schema;

/// <summary>The keys of a project file: one line each, in the order in which they are written.</summary>
internal static class ProjectSections
{
    private static readonly Section s_busSettings = new()
    {
        Name = "bus-settings",
        What = "",
        Description = "Settings of a bus; which ones there are depends on the board.",
        Open = Shapes.Text,
        Keys =
        [
            new("cs", Shapes.Text, "Chip-select pin of the controller.", "D10"),
            new("int", Shapes.Text, "Interrupt pin of the controller.", "D2"),
            new("crystal", new Amount("Hz", "kHz", "MHz"), "Crystal of the controller.", "16 MHz"),
            new("tolerance", new Amount("ppm", "%"), "How far the controller's oscillator may be off.", "100 ppm"),
            new("pins", Shapes.Text, "Pair of pins of the controller.", "PA11/PA12"),
            new("tx", Shapes.Text, "Transmit pin of the controller.", "IO21"),
            new("rx", Shapes.Text, "Receive pin of the controller.", "IO22"),
            new("interface", Shapes.Text, "Network interface of the controller.", "can0"),
        ],
    };

    private static readonly Section s_inputSettings = new()
    {
        Name = "input-settings",
        What = "",
        Description = "Where an input is wired.",
        Open = Shapes.Text,
        Keys =
        [
            new("pin", Shapes.Text, "Pin of the board.", "A0"),
            new("pull", new Words("none", "up", "down"), "Internal resistor; not every board has both.", "up"),
        ],
    };

    private static readonly Section s_outputSettings = new()
    {
        Name = "output-settings",
        What = "",
        Description = "Where an output is wired.",
        Keys = [new("pin", Shapes.Text, "Pin of the board.", "D6")],
    };

    private static readonly Section s_board = new()
    {
        Name = "board",
        What = "a board",
        Description = "One board and the modules that run on it.",
        Block = true,
        Keys =
        [
            new("board", Shapes.Text, "Kind of board; 'locum boards' lists them.", "avr-mcp2515") { Required = true },
            new("modules", Shapes.OneOrMany(Shapes.Text, ProjectBinder.MostModules, 1), "Description files, relative to this file.", "[cab-heat.yaml]") { Required = true },
            new("buses", Settings(s_busSettings), "Settings by bus.", "{body: {cs: D10, int: D2, crystal: 16 MHz}}"),
            new("inputs", Settings(s_inputSettings), "Settings by input; a single word is the pin.", "{run-line: {pin: A0, pull: none}}"),
            new("outputs", Settings(s_outputSettings), "Settings by output; a single word is the pin.", "{first-load: D6}"),
            new("led", Shapes.Text, "Pin of the LED.", "D8"),
            new("guards", new Either(new Mapping(GuardSections.Guards), new Nothing()), "When the board must not send.", "{foreign sender: silent, run at most: 8 h}"),
            new("bootloader", Shapes.YesNo, "yes: the board keeps its usual bootloader, which is checked against the first frame.", "no") { Default = "no" },
            new("stimulus", Shapes.Text, "Stimulus file for simulation and proof.", "cab-heat.stimulus.yaml"),
        ],
    };

    /// <summary>A project file.</summary>
    public static Section Root { get; } = new()
    {
        Name = "project",
        What = "a project",
        Description = "Which modules run on which boards.",
        Block = true,
        Keys =
        [
            new("locum", Shapes.Version, "Version of the description language.", "1") { Required = true },
            new("project", Shapes.Name, "Name of the project.", "depot-loco") { Required = true },
            new("summary", Shapes.Text, "A sentence for people.", "Stand-ins for modules that did not come along"),
            new("boards", new MapOf(new Mapping(s_board), 1, ProjectBinder.MostBoards, NameRule.Folder, true), "Boards by name.", "{cab: {board: avr-mcp2515, modules: [cab-heat.yaml]}}") { Required = true },
        ],
    };

    // A bare word stands for the pin.
    private static Shape Settings(Section section) =>
        new Either(new MapOf(new Either(Shapes.Text, new Mapping(section)), 0, int.MaxValue, NameRule.Free, true), new Nothing());
}
