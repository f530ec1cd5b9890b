using System.CommandLine;
using System.Text;
using Locum.Benching;
using Locum.Diagnostics;

namespace Locum.Cli;

/// <summary>locum bench: what to build and to measure around the board.</summary>
internal static class BenchCommand
{
    public static Command Create(Terminal terminal)
    {
        var path = CommonOptions.Path();
        var board = CommonOptions.Board();
        var format = CommonOptions.Choice("--format", "How sheets are written", "text", "json", "markdown");
        var output = new Option<string?>("--out") { Description = "Writes to this file instead of standard output." };
        var command = new Command("bench", "Stand-in resistors, dummy loads, hold-up, termination, stubs, connector, parts list.\nExample: locum bench projects/depot-loco --format markdown --out bench.md") { path, board, format, output };
        command.SetAction(result => Run(terminal, result.GetRequiredValue(path), result.GetValue(board), result.GetRequiredValue(format), result.GetValue(output)));
        return command;
    }

    private static int Run(Terminal terminal, string path, string? board, string format, string? output)
    {
        if (Session.Open(terminal, path, board, null, null) is not { } session)
            return ExitCode.Unusable;
        List<BenchSheet> sheets = [.. session.Plans.SelectMany(p => p.Modules).Select(m => Bench.Of(m.Module))];
        if (output is null)
            Write(terminal.Stream, sheets, format);
        else
        {
            Files.WriteAtomically(output, stream => Write(stream, sheets, format));
            terminal.Error.WriteLine($"bench of {sheets.Count} module{(sheets.Count is 1 ? "" : "s")} written to {Printable.Clean(output)}");
        }
        terminal.Stream.Flush();
        return sheets.TrueForAll(s => s.Holds) ? ExitCode.Fine : ExitCode.Findings;
    }

    private static void Write(Stream stream, IReadOnlyList<BenchSheet> sheets, string format)
    {
        if (format is "json")
        {
            BenchJson.Write(stream, sheets);
            return;
        }
        using var writer = new StreamWriter(stream, new UTF8Encoding(false), leaveOpen: true) { NewLine = "\n" };
        if (format is "markdown")
            BenchMarkdown.Write(writer, sheets);
        else
            BenchText.Write(writer, sheets);
    }
}
