using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Spectre.Console;

namespace Locum.Reporting;

/// <summary>A simulation in a few lines: what modes, outputs and guards do, a row per frame, the load of each bus.</summary>
public static class SummaryTable
{
    private const int MostLines = 16;
    private const int LongestName = 20;

    public static void Write(IAnsiConsole console, IReadOnlyList<BoardPlan> plans, Stimulus stimulus, SimulationResult result)
    {
        WriteChanges(console, plans, result);
        var summary = Summary.Of(plans, result);
        var table = new Table().Border(TableBorder.None);
        table.AddColumn(new TableColumn("frame").NoWrap().Padding(0, 0, 1, 0));
        table.AddColumn(new TableColumn("id").NoWrap().Padding(0, 0, 1, 0));
        foreach (var name in new[] { "sent", "skipped", "min ms", "mean ms", "max ms", "jitter ms" })
            table.AddColumn(new TableColumn(name).RightAligned().NoWrap().Padding(0, 0, 1, 0));
        var several = plans.Sum(p => p.Modules.Count) > 1;
        foreach (var row in summary.Frames)
            table.AddRow(
                Markup.Escape(DisplayWidth.Cut(Printable.Clean(several ? row.Sender : row.Frame), LongestName)), row.Id.ToString(), row.Sent.ToString(), row.Skipped.ToString(),
                Ms(row.MinUs), Ms(row.MeanUs), Ms(row.MaxUs), row.JitterUs is { } jitter ? $"{jitter / 1000:0.000}" : "-");
        console.Write(table);
        foreach (var bus in summary.Buses)
            console.WriteLine($"bus {Printable.Clean(bus.Name)}, {bus.Rate / 1000.0:0.###} kbit/s{(bus.DataRate is { } fast ? $" and {fast / 1000.0:0.###} kbit/s" : "")}: {bus.Load * 100:0.0} % busy in {stimulus.EndUs / 1e6:0.###} s, {bus.OwnLoad * 100:0.0} % by these boards");
    }

    private static void WriteChanges(IAnsiConsole console, IReadOnlyList<BoardPlan> plans, SimulationResult result)
    {
        var modes = result.Modes.Select(c => (c.AtUs, Text: Entered(plans[c.Board].Modules[c.Module].Module, c.Mode)));
        var outputs = result.Outputs.Select(c => (c.AtUs, Text: $"{Printable.Clean(plans[c.Board].Outputs[c.Output].Output.Name)} goes {(c.On ? "on" : "off")}"));
        var silences = result.Silences.Select(c => (c.AtUs, Text: $"{Printable.Clean(plans[c.Board].Name)} {SilenceWords.Of(c.Reason)}"));
        var changes = modes.Concat(outputs).Concat(silences).OrderBy(c => c.AtUs).ToList();
        foreach (var (at, text) in changes.Take(MostLines))
            console.WriteLine($"{at / 1e6,12:0.000000} s  {text}");
        if (changes.Count > MostLines)
            console.WriteLine($"{"",14}  and {changes.Count - MostLines} more changes");
    }

    private static string Entered(Module module, int mode) => $"{Printable.Clean(module.Name)} enters {Printable.Clean(module.Modes[mode].Name)}";

    private static string Ms(double? us) => us is { } value ? $"{value / 1000:0.000}" : "-";
}
