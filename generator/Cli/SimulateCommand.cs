using System.CommandLine;
using Locum.Reporting;
using Locum.Simulation;
using Locum.Traces;

namespace Locum.Cli;

/// <summary>locum simulate: frames, times, and a summary.</summary>
internal static class SimulateCommand
{
    private static readonly string[] s_formats = ["text", "csv", "json", "pcapng", "log"];

    public static Command Create(Terminal terminal)
    {
        var path = CommonOptions.Path();
        var stimulus = CommonOptions.Stimulus();
        var board = CommonOptions.Board();
        var time = CommonOptions.For();
        var format = CommonOptions.Choice("--format", "How the frames are written", s_formats);
        var trace = new Option<bool>("--trace") { Description = "With text: every frame, not only the summary." };
        var output = new Option<string?>("--out") { Description = "Write the frames to this file; the ending .csv, .jsonl, .pcapng, .log or .txt decides the format." };
        var command = new Command("simulate", "Runs modules on this PC with a modelled bus.\nExample: locum simulate projects/depot-loco --board cab --out cab.pcapng")
        {
            path, stimulus, board, time, format, trace, output,
        };
        command.SetAction(result => Run(terminal, Session.Open(terminal, result.GetRequiredValue(path), result.GetValue(board), result.GetValue(stimulus), result.GetValue(time)),
            result.GetRequiredValue(format), result.GetValue(trace), result.GetValue(output)));
        return command;
    }

    private static int Run(Terminal terminal, Session? session, string format, bool trace, string? output)
    {
        if (session is null)
            return ExitCode.Unusable;
        var stimulus = session.Combined();
        if (SessionRun.Of(terminal, session, session.Plans, stimulus) is not { } result)
            return ExitCode.Findings;
        var buses = session.Plans.SelectMany(p => p.Buses).Select(b => b.Name).Distinct().ToList();
        if (output is not null)
        {
            Files.WriteAtomically(output, stream => WriteFrames(stream, FormatOf(output), buses, result));
            terminal.Error.WriteLine($"{result.Frames.Count} frames written to {output}");
        }
        if (format is not "text" || trace)
            WriteFrames(terminal.Stream, format, buses, result);
        if (format is "text")
        {
            SummaryTable.Write(terminal.Tables(), session.Plans, stimulus, result);
            TimelineSketch.Write(terminal.Tables(), session.Plans, result);
        }
        terminal.Stream.Flush();
        return ExitCode.Fine;
    }

    private static string FormatOf(string path) => Path.GetExtension(path).ToLowerInvariant() switch
    {
        ".csv" => "csv",
        ".jsonl" or ".json" => "json",
        ".pcapng" => "pcapng",
        ".log" => "log",
        _ => "text",
    };

    private static void WriteFrames(Stream stream, string format, IReadOnlyList<string> buses, SimulationResult result)
    {
        var frames = result.Frames.Where(f => f.EndUs >= 0);
        using var text = new StreamWriter(stream, leaveOpen: true) { NewLine = "\n" };
        switch (format)
        {
            case "csv":
                CsvTrace.Write(text, frames);
                break;
            case "json":
                JsonLinesTrace.Write(stream, frames);
                break;
            case "pcapng":
                PcapNgTrace.Write(stream, buses, frames);
                break;
            case "log":
                using (var log = new TextLogSink(stream))
                    SentFrames.Deliver(log, buses, frames);
                break;
            default:
                TextTrace.Write(text, frames);
                break;
        }
    }
}
