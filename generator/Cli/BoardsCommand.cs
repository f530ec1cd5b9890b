using System.CommandLine;
using System.Text.Json;
using Locum.Boards;
using Locum.Rendering;
using Spectre.Console;

namespace Locum.Cli;

/// <summary>locum boards: what runs on what.</summary>
internal static class BoardsCommand
{
    private static readonly JsonSerializerOptions s_json = new() { WriteIndented = true, PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    public static Command Create(Terminal terminal)
    {
        var format = CommonOptions.Choice("--format", "How the list is written", "text", "json");
        var command = new Command("boards", "Lists the boards and their limits.\nExample: locum boards") { format };
        command.SetAction(result =>
        {
            var kinds = BoardCatalogue.Names.Select(n => BoardCatalogue.Find(n)!).ToList();
            if (result.GetRequiredValue(format) is "json")
                terminal.Output.WriteLine(JsonSerializer.Serialize(kinds, s_json));
            else
                Show(terminal, kinds);
            return ExitCode.Fine;
        });
        return command;
    }

    private static string Controllers(BoardKind kind)
    {
        var crystals = $"crystals, {kind.Default("crystal", 0)} unless the project says otherwise";
        var onChip = $"{kind.ControllerKind}, {(kind.ControllerClockHz > 0 ? $"{kind.ControllerClockHz / 1e6:0.###} MHz" : crystals)}";
        return kind.SpiControllers.Count is 0 ? onChip : $"{onChip}; {string.Join(", ", kind.SpiControllers)}: {kind.SpiControllerKind}, {crystals}";
    }

    private static void Show(Terminal terminal, IReadOnlyList<BoardKind> kinds)
    {
        terminal.Tables().Write(Table(kinds));
        foreach (var kind in kinds)
        {
            terminal.Output.WriteLine();
            Paragraph(terminal, $"{kind.Name}: {kind.Summary}");
            if (kind.ControllerKind is not "none")
                Paragraph(terminal, $"  controllers: {Controllers(kind)}");
            if (kind.FreePins.Count > 0)
                Paragraph(terminal, $"  free pins: {string.Join(" ", kind.FreePins)}");
        }
        terminal.Output.WriteLine();
        Paragraph(terminal, "'start': power to first instruction, without and with the usual bootloader. Free pins include those that inputs, LED and controllers take by default.");
    }

    private static void Paragraph(Terminal terminal, string text)
    {
        var indent = text.Length - text.TrimStart().Length;
        foreach (var (line, i) in CText.Wrap(text.TrimStart(), Terminal.Width - indent - 2).Select((l, i) => (l, i)))
            terminal.Output.WriteLine($"{new string(' ', i is 0 ? indent : indent + 2)}{line}");
    }

    private static Table Table(IReadOnlyList<BoardKind> kinds)
    {
        var table = new Table().Border(TableBorder.None);
        foreach (var name in new[] { "board", "buses", "boxes", "FD", "flash/RAM KiB", "MHz", "supply V", "start ms" })
            table.AddColumn(new TableColumn(name).NoWrap().Padding(0, 0, 1, 0));
        foreach (var kind in kinds)
            table.AddRow(
                Markup.Escape(kind.Name),
                kind.Controllers.ToString(),
                kind.Mailboxes.ToString(),
                kind.Fd ? "yes" : "no",
                kind.FlashBytes > 0 ? $"{kind.FlashBytes / 1024}/{kind.RamBytes / 1024}" : "",
                kind.ClockHz > 0 ? $"{kind.ClockHz / 1e6:0.###}" : "",
                Markup.Escape(kind.SupplyFrom.Length > 0 ? $"{kind.SupplyFrom}-{kind.SupplyTo}".Replace(" V", "", StringComparison.Ordinal) : ""),
                kind.StartBareUs > 0 ? $"{kind.StartBareUs / 1000}/{kind.StartBootloaderUs / 1000}" : "");
        return table;
    }
}
