using System.Globalization;
using System.Text.RegularExpressions;
using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The same twelve frames on every board with an emulated processor: what they cost, in one table.</summary>
public sealed partial class PortFiguresTests(ITestOutputHelper log)
{
    private const long EndUs = 2_000_000;

    // Several at once would not be quicker: the other tests use the second processor.
    private static readonly string[] s_kinds =
    [
        "avr-mcp2515", "imxrt1062-flexcan", "rp2040-mcp2515", "rp2040-mcp2518fd", "sam3x8e-can", "stm32f103-bxcan", "stm32f105-bxcan", "stm32f405-bxcan", "stm32f446-bxcan",
        "stm32g0b1-fdcan", "stm32g431-fdcan", "stm32g474-fdcan", "stm32h743-fdcan",
    ];

    [Fact]
    public void Every_port_keeps_its_figures()
    {
        var table = new FigureTable("board", 18, 9);
        foreach (var kind in s_kinds)
            Measure(kind, table);
        log.WriteLine(table.ToString());
        Committed.Hold(RepoRoot.Path("tests", "Firmware", "ports.txt"), table);
    }

    private static void Measure(string kind, FigureTable table)
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "benchmarks", "twelve", "on-stm32.yaml"));
        var plan = BoardPlanner.Plan(OtherBoards.Move(loaded.Project!.Boards.Single(), kind), loaded.Diagnostics)!;
        Assert.Empty(loaded.Diagnostics.Sorted);
        var stimulus = loaded.Stimuli.Values.Single();
        stimulus = stimulus with { EndUs = EndUs, Traffic = [.. stimulus.Traffic.Select(t => t with { UntilUs = Math.Min(t.UntilUs, EndUs) })] };
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var on = GuardedBoard.Of(kind);
        var latency = Latency.Check(plan, board.Simulate(stimulus), run, on.ToleranceUs);
        var size = FirmwareSize.Of(on.Tools, board.Elf);
        Assert.True(latency.Compared > 500, $"{latency.Compared} frames");
        CheckStack(plan, board, run);
        table.Set("flash", kind, size.Flash);
        table.Set("RAM", kind, size.StaticRam);
        table.Set("stack", kind, run.Output.Measures["stack_bytes"]);
        table.Set("awake", kind, run.Output.Measures["cpu_us_per_frame"], 1);
        table.Set("asleep", kind, run.Output.Measures["sleep_share"], 3);
        table.Set("delay", kind, latency.WorstUs, 1);
        table.Set("jitter", kind, latency.JitterUs, 1);
        table.Set("runs", kind, run.Output.Measures["clock_start_us"] / 1_000, 2);
        table.Set("sends", kind, run.Output.Frames.Min(f => f.StartUs) / 1_000, 2);
    }

    // What 'make' says is a bound: nothing that runs goes deeper, and it fits what the board reserves.
    private static void CheckStack(BoardPlan plan, EmulatedBoard board, EmulatedRun run)
    {
        var said = Said().Match(board.BuildLog);
        Assert.True(said.Success, board.BuildLog);
        Assert.Equal($"{plan.Kind.StackBytes}", said.Groups[2].Value);
        Assert.InRange(run.Output.Measures["stack_bytes"], 40, int.Parse(said.Groups[1].Value, CultureInfo.InvariantCulture));
        Assert.InRange(int.Parse(said.Groups[1].Value, CultureInfo.InvariantCulture), 60, plan.Kind.StackBytes);
    }

    [GeneratedRegex(@"^stack: at most (\d+) bytes, (\d+) are reserved$", RegexOptions.Multiline)]
    private static partial Regex Said();
}
