using Locum.Binding;
using Locum.Diagnostics;
using Locum.Syntax;

namespace Locum.Boards;

/// <summary>Syntax → board facts.</summary>
internal static class BoardReader
{
    public static BoardKind Bind(string name, SyntaxNode root, DiagnosticBag diagnostics)
    {
        var reader = new MappingReader(root, diagnostics, "a board");
        ModuleBinder.CheckVersion(reader, "locum board", diagnostics);
        var controllers = Section(reader, "controllers", diagnostics);
        var memory = Section(reader, "memory", diagnostics);
        var supply = Section(reader, "supply", diagnostics);
        var start = Section(reader, "start", diagnostics);
        var kind = new BoardKind
        {
            Name = name,
            Summary = Text(reader, "summary", diagnostics),
            ClockHz = Quantity.Frequency(Text(reader, "clock", diagnostics)) ?? 0,
            Controllers = (int)(Quantity.Integer(Text(controllers, "count", diagnostics)) ?? 0),
            Mailboxes = (int)(Quantity.Integer(Text(controllers, "mailboxes", diagnostics)) ?? 0),
            Fd = Scalars.Word(controllers.Optional("fd"), diagnostics, "answer", Binding.WordTables.YesNo) ?? false,
            ControllerKind = Text(controllers, "kind", diagnostics),
            FdControllerKind = Text(controllers, "fd kind", diagnostics),
            FdControllers = Words(controllers.Optional("fd controllers")),
            SpiControllerKind = Text(controllers, "spi kind", diagnostics),
            SpiControllers = Words(controllers.Optional("spi controllers")),
            ControllerClockHz = Quantity.Frequency(Text(controllers, "clock", diagnostics)) ?? 0,
            FlashBytes = Quantity.Memory(Text(memory, "flash", diagnostics)) ?? 0,
            RamBytes = Quantity.Memory(Text(memory, "ram", diagnostics)) ?? 0,
            StackBytes = Quantity.Memory(Text(memory, "stack", diagnostics)) ?? 0,
            SupplyFrom = Text(supply, "from", diagnostics),
            SupplyTo = Text(supply, "to", diagnostics),
            StartBareUs = Quantity.TimeUs(Text(start, "bare", diagnostics)) ?? 0,
            StartBootloaderUs = Quantity.TimeUs(Text(start, "bootloader", diagnostics)) ?? 0,
            ReleaseWithinUs = Quantity.TimeUs(Text(reader, "release within", diagnostics)) ?? 0,
            Pins = Map(reader, "pins", diagnostics),
            Reserved = Map(reader, "reserved", diagnostics),
            Defaults = reader.Named("defaults", "settings").ToDictionary(e => e.Key.Value, e => Words(e.Value), StringComparer.Ordinal),
            Choices = reader.Named("choices", "settings").ToDictionary(e => e.Key.Value, e => Words(e.Value), StringComparer.Ordinal),
            Pulls = reader.Optional("pulls") is { } pulls ? Words(pulls) : ["none", "up", "down"],
            Words = Map(reader, "words", diagnostics),
            Files = Words(reader.Optional("files")),
            Headers = Words(reader.Optional("headers")),
            SpiFiles = Words(reader.Optional("spi files")),
            SpiHeaders = Words(reader.Optional("spi headers")),
            Extras = Words(reader.Optional("extras")),
            Templates = Words(reader.Optional("templates")),
        };
        foreach (var section in new[] { controllers, memory, supply, start, reader })
            section.Done();
        return kind;
    }

    private static MappingReader Section(MappingReader reader, string key, DiagnosticBag diagnostics) =>
        new(reader.Optional(key) ?? new MappingNode([], reader.Span), diagnostics, $"'{key}'");

    private static string Text(MappingReader reader, string key, DiagnosticBag diagnostics) =>
        Scalars.Text(reader.Optional(key), diagnostics, key) ?? "";

    private static Dictionary<string, string> Map(MappingReader reader, string key, DiagnosticBag diagnostics) =>
        reader.Named(key, key).ToDictionary(e => e.Key.Value, e => Scalars.Text(e.Value, diagnostics, key) ?? "", StringComparer.Ordinal);

    private static IReadOnlyList<string> Words(SyntaxNode? node) => node switch
    {
        SequenceNode list => [.. list.Items.OfType<ScalarNode>().Select(s => s.Value)],
        ScalarNode one => [one.Value],
        _ => [],
    };
}
