using System.CommandLine;
using Locum.Auditing;
using Locum.Capture;
using Locum.Diagnostics;

namespace Locum.Cli;

/// <summary>locum audit: what a receiver would object to in a capture of boards in their vehicle.</summary>
internal static class AuditCommand
{
    public static Command Create(Terminal terminal)
    {
        var capture = new Argument<string>("capture") { Description = "A capture of the boards in the vehicle: pcap, pcapng, text log or table; .gz too." };
        var description = new Option<string>("--description") { Description = "What the boards ought to send: a description, a project.yaml, or a folder with one.", Required = true };
        var original = new Option<string?>("--original") { Description = "A capture of the real module, to compare with." };
        var board = CommonOptions.Board();
        var layout = CaptureInput.Layout();
        var format = CommonOptions.Choice("--format", "How findings are written", "text", "json");
        var command = new Command("audit", "Holds a capture against a description: what a receiver would object to, worst first.\nExample: locum audit drive.pcapng --description projects/depot-loco/cab-heat.yaml")
        {
            capture, description, original, board, layout, format,
        };
        command.SetAction(result => Run(terminal, Session.Open(terminal, result.GetRequiredValue(description), result.GetValue(board), null, null),
            result.GetRequiredValue(capture), result.GetValue(original), result.GetValue(layout), result.GetRequiredValue(format)));
        return command;
    }

    private static int Run(Terminal terminal, Session? session, string path, string? original, string? layout, string format)
    {
        if (session is null || CaptureInput.Load(terminal, original is null ? [path] : [path, original], layout) is not { } captures)
            return ExitCode.Unusable;
        foreach (var capture in captures)
            if (Refuse(terminal, capture))
                return ExitCode.Unusable;
        var result = Audit.Of(session.Plans, captures[0].Recording, captures.Count > 1 ? captures[1].Recording : null);
        if (format is "json")
            AuditJson.Write(terminal.Stream, path, result);
        else
            AuditText.Write(terminal.Output, path, result);
        terminal.Stream.Flush();
        return result.Findings.Count is 0 ? ExitCode.Fine : ExitCode.Findings;
    }

    /// <summary>True, after telling why, when nothing can be judged by a capture.</summary>
    public static bool Refuse(Terminal terminal, LoadedCapture capture)
    {
        var empty = capture.Recording.FrameCount is 0;
        if (!empty && capture.Summary.HasTime)
            return false;
        terminal.Error.WriteLine($"locum: '{Printable.Clean(capture.Path)}' has {(empty ? "no frames" : "no times, without which nothing can be judged")}");
        terminal.Error.WriteLine("  mend: record it again, with times; 'locum read' tells what it holds");
        return true;
    }
}
