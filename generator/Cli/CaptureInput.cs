using System.CommandLine;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Cli;

/// <summary>Reading captures for commands: options, progress at a terminal, findings and oddities on standard error.</summary>
internal static class CaptureInput
{
    /// <summary>One capture or several.</summary>
    public static Argument<string[]> Paths() => new("capture")
    {
        Description = "pcap, pcapng, text logs or tables; .gz too.",
        Arity = ArgumentArity.OneOrMore,
    };

    /// <summary>A description of a table's columns.</summary>
    public static Option<string?> Layout() => new("--layout")
    {
        Description = "What the columns of a table mean: a YAML file. Default: recognised.",
    };

    /// <summary>Loads captures and tells what is odd about each; null, after telling why, when one is not usable.</summary>
    /// <param name="terminal">Where to tell.</param>
    /// <param name="paths">The captures.</param>
    /// <param name="layoutPath">Layout of tables; null to recognise them.</param>
    public static IReadOnlyList<LoadedCapture>? Load(Terminal terminal, IReadOnlyList<string> paths, string? layoutPath)
    {
        var diagnostics = new DiagnosticBag();
        var loaded = new List<LoadedCapture>();
        foreach (string path in paths)
        {
            if (CaptureReader.Load(path, diagnostics, new CaptureOptions()) is { } capture)
                loaded.Add(capture);
        }

        terminal.Report(diagnostics.Sorted, new Dictionary<string, SourceText>());
        if (diagnostics.HasErrors)
            return null;
        foreach (var capture in loaded)
            TellOddities(terminal, capture.Summary);
        return loaded;
    }

    /// <summary>One line per oddity on standard error.</summary>
    public static void TellOddities(Terminal terminal, CaptureSummary summary)
    {
        foreach (var oddity in summary.Oddities)
            terminal.Error.WriteLine($"{Printable.Clean(summary.Path)}: {oddity.Facts.What}: {oddity.Count} times, first in {summary.ItemWord} {oddity.First}; {oddity.Facts.Done}");
    }
}
