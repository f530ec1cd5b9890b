using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Pipeline;
using Locum.Text;

namespace Locum.Cli;

/// <summary>Reading captures for commands: options, progress at a terminal, findings and oddities on standard error.</summary>
internal static class CaptureInput
{
    private const long ProgressBytes = 32 * 1024 * 1024;

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
        var loaded = new List<LoadedCapture>();
        bool usable = Each(terminal, paths, layoutPath, (path, diagnostics, options) =>
        {
            if (CaptureReader.Load(path, diagnostics, options) is not { } capture)
                return null;
            loaded.Add(capture);
            return capture.Summary;
        });
        return usable ? loaded : null;
    }

    /// <summary>Reads captures one after the other, with progress at a terminal; false, after telling why, when one is not usable.</summary>
    /// <param name="terminal">Where to tell.</param>
    /// <param name="paths">The captures.</param>
    /// <param name="layoutPath">Layout of tables; null to recognise them.</param>
    /// <param name="read">Reads one; null when it is not usable.</param>
    public static bool Each(
        Terminal terminal, IReadOnlyList<string> paths, string? layoutPath, Func<string, DiagnosticBag, CaptureOptions, CaptureSummary?> read)
    {
        var diagnostics = new DiagnosticBag();
        var sources = new Dictionary<string, SourceText>(StringComparer.Ordinal);
        TableLayout? layout = layoutPath is null ? null : Loader.LoadLayout(layoutPath, diagnostics, sources);
        var summaries = new List<CaptureSummary>();
        if (!diagnostics.HasErrors)
        {
            foreach (string path in paths)
            {
                var options = new CaptureOptions { Layout = layout, Progress = Progress(terminal, path) };
                if (read(path, diagnostics, options) is { } summary)
                    summaries.Add(summary);
                terminal.ShowProgress("");
            }
        }

        terminal.Report(diagnostics.Sorted, sources);
        foreach (var summary in summaries)
            TellOddities(terminal, summary);
        return !diagnostics.HasErrors;
    }

    // One line per oddity that is worth a message.
    private static void TellOddities(Terminal terminal, CaptureSummary summary)
    {
        foreach (var oddity in summary.Oddities.Where(o => !o.Facts.IsUsual))
            terminal.Error.WriteLine($"{Printable.Clean(summary.Path)}:{Place(summary, oddity)}: {Words(oddity)}");
    }

    /// <summary>An oddity in a sentence without its place.</summary>
    public static string Words(Oddity oddity) =>
        $"{oddity.Facts.What}{(oddity.Count > 1 ? string.Create(CultureInfo.InvariantCulture, $", {oddity.Count} times") : "")}; {oddity.Facts.Done}";

    private static string Place(CaptureSummary summary, Oddity oddity) =>
        summary.ItemWord is "line" ? oddity.First.ToString(CultureInfo.InvariantCulture) : $" {summary.ItemWord} {oddity.First}";

    private static Action<long, long>? Progress(Terminal terminal, string path)
    {
        if (!terminal.ShowsProgress)
            return null;
        long next = ProgressBytes;
        var clock = Stopwatch.StartNew();
        return (done, all) =>
        {
            if (done < next || clock.ElapsedMilliseconds < 200)
                return;
            next = done + ProgressBytes;
            string share = all > 0 ? string.Create(CultureInfo.InvariantCulture, $"{100 * done / all} %") : string.Create(CultureInfo.InvariantCulture, $"{done / 1_000_000} MB");
            terminal.ShowProgress($"reading {Printable.Short(Path.GetFileName(path))}: {share}");
        };
    }
}
