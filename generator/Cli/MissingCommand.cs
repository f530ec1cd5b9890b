using System.CommandLine;
using Locum.Capture;
using Locum.Comparing;
using Locum.Diagnostics;

namespace Locum.Cli;

/// <summary>locum missing: what captures with a module have and captures without it lack.</summary>
internal static class MissingCommand
{
    public static Command Create(Terminal terminal)
    {
        var with = Captures("--with", "Captures with the module in the vehicle.");
        var without = Captures("--without", "Captures with the module taken out.");
        var layout = CaptureInput.Layout();
        var format = CommonOptions.Choice("--format", "How differences are written", "text", "json");
        var command = new Command("missing", "Lists what only comes with a module, what changes and what appears without it.\nExample: locum missing --with in-1.pcapng in-2.pcapng --without out-1.pcapng")
        {
            with, without, layout, format,
        };
        command.SetAction(result => Run(terminal, result.GetRequiredValue(with), result.GetRequiredValue(without), result.GetValue(layout), result.GetRequiredValue(format)));
        return command;
    }

    private static Option<string[]> Captures(string name, string description) =>
        new(name) { Description = $"{description} pcap, pcapng, text logs or tables; .gz too.", Required = true, Arity = ArgumentArity.OneOrMore, AllowMultipleArgumentsPerToken = true };

    private static int Run(Terminal terminal, string[] with, string[] without, string? layout, string format)
    {
        if (CaptureInput.Load(terminal, [.. with, .. without], layout) is not { } captures)
            return ExitCode.Unusable;
        var unusable = captures.Where(c => c.Recording.FrameCount is 0 || !c.Summary.HasTime).ToList();
        foreach (var capture in unusable)
        {
            terminal.Error.WriteLine($"locum: '{Printable.Clean(capture.Path)}' has {(capture.Recording.FrameCount is 0 ? "no frames" : "no times, without which rates cannot be compared")}");
            terminal.Error.WriteLine("  mend: record it again, with times; 'locum read' tells what it holds");
        }
        if (unusable.Count > 0)
            return ExitCode.Unusable;
        var named = captures.Select(c => new NamedCapture(c.Path, c.Recording)).ToList();
        var comparison = Comparison.Of([.. named.Take(with.Length)], [.. named.Skip(with.Length)]);
        if (format is "json")
            ComparisonJson.Write(terminal.Stream, comparison);
        else
            ComparisonText.Write(terminal.Output, comparison);
        terminal.Stream.Flush();
        return comparison.Differences.Count is 0 ? ExitCode.Fine : ExitCode.Findings;
    }
}
