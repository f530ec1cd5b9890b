using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Spectre.Console;

namespace Locum.Reporting;

/// <summary>A simulation in a few lines: mode changes, a row per frame, the load of each bus.</summary>
public static class SummaryTable
{
    private const int MostModeLines = 12;
    private const int LongestName = 20;

    public static void Write(IAnsiConsole console, IReadOnlyList<BoardPlan> plans, Stimulus stimulus, SimulationResult result)
    {
        WriteModes(console, plans, result);
        foreach (var change in result.Silences.Take(MostModeLines))
            console.WriteLine($"{change.AtUs / 1e6,12:0.000000} s  {Printable.Clean(plans[change.Board].Name)} {SilenceWords.Of(change.Reason)}");
        var summary = Summary.Of(plans, result);
        var table = new Table().Border(TableBorder.None);
        table.AddColumn(new TableColumn("frame").NoWrap().Padding(0, 0, 1, 0));
        table.AddColumn(new TableColumn("id").NoWrap().Padding(0, 0, 1, 0));
        foreach (var name in new[] { "sent", "skipped", "min ms", "mean ms", "max ms", "jitter ms" })
            table.AddColumn(new TableColumn(name).RightAligned().NoWrap().Padding(0, 0, 1, 0));
        var several = plans.Sum(p => p.Modules.Count) > 1;
        foreach (var row in summary.Frames)
            table.AddRow(
                Markup.Escape(Cut(Printable.Clean(several ? row.Sender : row.Frame))), row.Id.ToString(), row.Sent.ToString(), row.Skipped.ToString(),
                Ms(row.MinUs), Ms(row.MeanUs), Ms(row.MaxUs), row.JitterUs is { } jitter ? $"{jitter / 1000:0.000}" : "-");
        console.Write(table);
        foreach (var bus in summary.Buses)
            console.WriteLine($"bus {Printable.Clean(bus.Name)}, {bus.Rate / 1000.0:0.###} kbit/s{(bus.DataRate is { } fast ? $" and {fast / 1000.0:0.###} kbit/s" : "")}: {bus.Load * 100:0.0} % busy in {stimulus.EndUs / 1e6:0.###} s, {bus.OwnLoad * 100:0.0} % by these boards");
    }

    private static void WriteModes(IAnsiConsole console, IReadOnlyList<BoardPlan> plans, SimulationResult result)
    {
        foreach (var change in result.Modes.Take(MostModeLines))
        {
            var module = plans[change.Board].Modules[change.Module].Module;
            console.WriteLine($"{change.AtUs / 1e6,12:0.000000} s  {Printable.Clean(module.Name)} enters {Printable.Clean(module.Modes[change.Mode].Name)}");
        }
        if (result.Modes.Count > MostModeLines)
            console.WriteLine($"{"",14}  and {result.Modes.Count - MostModeLines} more mode changes");
    }

    private static string Cut(string name) => name.Length <= LongestName ? name : name[..(LongestName - 1)] + "…";

    private static string Ms(double? us) => us is { } value ? $"{value / 1000:0.000}" : "-";
}
