using System.CommandLine;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Reporting;
using Locum.Traces;

namespace Locum.Cli;

/// <summary>locum read: what a capture holds, and conversion.</summary>
internal static class ReadCommand
{
    private static readonly string[] s_endings = [".pcapng", ".log", ".csv"];

    public static Command Create(Terminal terminal)
    {
        var paths = CaptureInput.Paths();
        var layout = CaptureInput.Layout();
        var format = CommonOptions.Choice("--format", "How the summary is written", "text", "json");
        var output = new Option<string?>("--out") { Description = "Write the entries to this file; the ending .pcapng, .log or .csv decides the format. One capture only." };
        var command = new Command("read", "Tells what captures hold: form, columns, buses, identifiers, oddities; converts them.\nExample: locum read drive.csv --out drive.pcapng")
        {
            paths, layout, format, output,
        };
        command.SetAction(result => Run(terminal, result.GetRequiredValue(paths), result.GetValue(layout), result.GetRequiredValue(format), result.GetValue(output)));
        return command;
    }

    private static int Run(Terminal terminal, string[] paths, string? layout, string format, string? output)
    {
        if (output is not null && Refuse(terminal, paths, output))
            return ExitCode.Unusable;
        var reports = new List<CaptureReport>();
        bool usable = CaptureInput.Each(terminal, paths, layout, (path, diagnostics, options) =>
        {
            var counts = new IdentifierCounts();
            var summary = output is null ? CaptureReader.Read(path, counts, diagnostics, options) : Convert(terminal, path, output, counts, diagnostics, options);
            if (summary is not null)
                reports.Add(new CaptureReport(summary, counts.All));
            return summary;
        });
        if (!usable)
            return ExitCode.Unusable;
        if (format is "json")
            CaptureReportJson.Write(terminal.Stream, reports);
        else
            CaptureReportText.Write(terminal.Output, reports);
        terminal.Stream.Flush();
        return reports.Any(r => r.Summary.Entries is 0) ? ExitCode.Findings : ExitCode.Fine;
    }

    private static bool Refuse(Terminal terminal, string[] paths, string output)
    {
        bool known = s_endings.Contains(Path.GetExtension(output), StringComparer.OrdinalIgnoreCase);
        if (known && paths.Length is 1)
            return false;
        terminal.Error.WriteLine(known ? "locum: --out takes one capture at a time" : $"locum: '{Printable.Clean(output)}' has none of the endings {string.Join(", ", s_endings)}");
        terminal.Error.WriteLine(known ? "  mend: convert the captures one by one" : "  mend: choose the format by the ending");
        return true;
    }

    private static CaptureSummary? Convert(Terminal terminal, string path, string output, IdentifierCounts counts, DiagnosticBag diagnostics, CaptureOptions options)
    {
        CaptureSummary? summary = null;
        Files.WriteAtomically(output, stream => summary = Convert(terminal, stream, path, output, counts, diagnostics, options), () => summary is not null);
        if (summary is null)
            return null;
        terminal.Error.WriteLine($"{summary.Entries} entries written to {Printable.Clean(output)}");
        if (!summary.HasTime)
            terminal.Error.WriteLine("  the capture has no times: those written are the numbers of the entries, in microseconds");
        return summary;
    }

    private static CaptureSummary? Convert(
        Terminal terminal, Stream stream, string path, string output, IdentifierCounts counts, DiagnosticBag diagnostics, CaptureOptions options)
    {
        using var buffered = new BufferedStream(stream, 64 * 1024);
        switch (Path.GetExtension(output).ToLowerInvariant())
        {
            case ".log":
                using (var log = new TextLogSink(buffered))
                    return CaptureReader.Read(path, new BothSinks(counts, log), diagnostics, options);
            case ".csv":
                using (var text = new StreamWriter(buffered, leaveOpen: true))
                    return CaptureReader.Read(path, new BothSinks(counts, new CsvSink(text)), diagnostics, options);
            default:
                var packets = new PcapNgSink(buffered);
                var summary = CaptureReader.Read(path, new BothSinks(counts, packets), diagnostics, options);
                if (packets.Early > 0)
                    terminal.Error.WriteLine($"  {packets.Early} entries lie before the times that pcapng can say, and have the earliest one");
                return summary;
        }
    }
}
