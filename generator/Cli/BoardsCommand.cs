using System.CommandLine;
using System.Text.Json;
using Locum.Boards;
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

    private static void Show(Terminal terminal, IReadOnlyList<BoardKind> kinds)
    {
        terminal.Tables().Write(Table(kinds));
        foreach (var kind in kinds)
            terminal.Output.WriteLine($"{kind.Name}: {kind.Summary}");
    }

    private static Table Table(IReadOnlyList<BoardKind> kinds)
    {
        var table = new Table().Border(TableBorder.None);
        foreach (var name in new[] { "board", "buses", "CAN FD", "flash", "RAM", "supply", "starts after" })
            table.AddColumn(new TableColumn(name).NoWrap());
        foreach (var kind in kinds)
            table.AddRow(
                Markup.Escape(kind.Name),
                kind.Controllers.ToString(),
                kind.Fd ? "yes" : "no",
                kind.FlashBytes > 0 ? $"{kind.FlashBytes / 1024} KiB" : "",
                kind.RamBytes > 0 ? $"{kind.RamBytes / 1024} KiB" : "",
                Markup.Escape(kind.SupplyFrom.Length > 0 ? $"{kind.SupplyFrom} to {kind.SupplyTo}" : ""),
                kind.StartBareUs > 0 ? $"{kind.StartBareUs / 1000} ms" : "");
        return table;
    }
}
