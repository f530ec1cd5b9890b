using System.Text;
using Locum.Diagnostics;
using Locum.Planning;
using Locum.Simulation;
using Spectre.Console;

namespace Locum.Reporting;

/// <summary>A simulation drawn in characters: a row per module with its modes, a row per frame with how many start in each column.</summary>
public static class TimelineSketch
{
    private const int Label = 20;
    private const int Cells = 58;
    private const int MostRows = 24;
    private const int LeastTick = 10;

    // Each character stands for twice as many frames as the one before, from one on.
    private const string Densities = ".:-=+*#";

    public static void Write(IAnsiConsole console, IReadOnlyList<BoardPlan> plans, SimulationResult result)
    {
        var end = Math.Max(1, result.EndUs);
        var rows = Rows(plans, result, end).ToList();
        console.WriteLine();
        Line(console, "", Axis(end));
        foreach (var (label, cells) in rows.Take(MostRows))
            Line(console, label, cells);
        if (rows.Count > MostRows)
            console.WriteLine($"and {Words.Count(rows.Count - MostRows, "more row")}; '--board' shows one board, '--trace' every frame");
        console.WriteLine($"a column is {Words.Time((double)end / Cells)}; frames in it, from: {Key()}");
    }

    private static IEnumerable<(string Label, string Cells)> Rows(IReadOnlyList<BoardPlan> plans, SimulationResult result, long end)
    {
        var sent = result.Frames.Where(f => f.EndUs >= 0).ToLookup(f => f.Sender, f => f.StartUs, StringComparer.Ordinal);
        var several = plans.Sum(p => p.Modules.Count) > 1;
        for (var board = 0; board < plans.Count; board++)
            foreach (var module in plans[board].Modules)
            {
                var changes = result.Modes.Where(c => c.Board == board && c.Module == module.Index).Select(c => (c.AtUs, module.Module.Modes[c.Mode].Name));
                yield return (module.Module.Name, Modes([(0, module.Module.Modes[0].Name), .. changes], end));
                foreach (var frame in plans[board].Frames.Where(f => f.Owner == module))
                    yield return (several ? frame.Sender : frame.Frame.Name, Density(sent[frame.Sender], end));
            }
    }

    private static void Line(IAnsiConsole console, string label, string cells) =>
        console.WriteLine($"{DisplayWidth.Fit(Printable.Clean(label), Label)} {cells}".TrimEnd());

    // Ticks at round times, far enough from each other for their labels.
    private static string Axis(long end)
    {
        var step = Step(end * LeastTick / Cells);
        var axis = new StringBuilder();
        for (long at = 0; at < end; at += step)
        {
            var label = at is 0 ? "|0" : $"|{Words.Time(at)}";
            var column = Column(at, end);
            if (column + label.Length <= Cells)
                axis.Append(' ', column - axis.Length).Append(label);
        }
        return axis.ToString();
    }

    private static long Step(long least)
    {
        for (long power = 1; ; power *= 10)
            foreach (var factor in new[] { 1, 2, 5 })
                if (factor * power >= least)
                    return factor * power;
    }

    // A bar where a mode begins, then its name as far as there is room.
    private static string Modes(IReadOnlyList<(long AtUs, string Name)> stays, long end)
    {
        var cells = new StringBuilder();
        var from = 0;
        for (var i = 0; i < stays.Count; i++)
        {
            var next = i + 1 < stays.Count ? Column(stays[i + 1].AtUs, end) : Cells;
            if (next <= from)
                continue;
            cells.Append('|').Append(DisplayWidth.Fit(Printable.Clean(stays[i].Name), next - from - 1));
            from = next;
        }
        return cells.ToString();
    }

    private static string Density(IEnumerable<long> starts, long end)
    {
        var counts = new int[Cells];
        foreach (var start in starts)
            counts[Column(start, end)]++;
        return string.Concat(counts.Select(c => c is 0 ? ' ' : Densities[Math.Min(int.Log2(c), Densities.Length - 1)]));
    }

    private static string Key() => string.Join("  ", Densities.Select((c, i) => $"{c} {1 << i}"));

    private static int Column(long atUs, long end) => (int)Math.Clamp(atUs * Cells / end, 0, Cells - 1);
}
