using Locum.Pipeline;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>What guards cost: the twelve frames with each of them beside the same frames without any.</summary>
public sealed class GuardFiguresTests(ITestOutputHelper log)
{
    private static readonly (string Name, string Guards)[] s_guards =
    [
        ("foreign sender", "{foreign sender: silent}"),
        ("bus off", "{foreign sender: ignore, bus off: {}}"),
        ("enable", "{foreign sender: ignore, enable: {input: run-line}}"),
        ("run at most", "{foreign sender: ignore, run at most: 8 h}"),
        ("reset: resume", "{foreign sender: ignore, reset: resume}"),
        ("all of them", "{bus off: {}, enable: {input: run-line}, run at most: 8 h, reset: resume}"),
    ];

    [Fact]
    public void Guards_keep_their_cost()
    {
        var table = new FigureTable();
        foreach (var (project, kind) in new[] { ("on-avr.yaml", GuardedBoard.Avr), ("on-stm32.yaml", GuardedBoard.Stm32) })
        {
            var none = Size(project, kind, "{foreign sender: ignore}");
            var sizes = s_guards.Select(g => (g.Name, Size: Size(project, kind, g.Guards))).ToList();
            foreach (var (name, size) in sizes)
                table.Set(kind.Kind, $"flash for '{name}', bytes", size.Flash - none.Flash);
            foreach (var (name, size) in sizes)
                table.Set(kind.Kind, $"static RAM for '{name}', bytes", size.StaticRam - none.StaticRam);
        }
        log.WriteLine(table.ToString());
        Committed.Hold(RepoRoot.Path("tests", "Firmware", "guard-figures.txt"), table);
    }

    // Beside a bus that is 80 % busy; what the filters let in of it costs time, too.
    [Theory]
    [InlineData("on-avr.yaml", "avr-mcp2515")]
    [InlineData("on-stm32.yaml", "stm32f103-bxcan")]
    public void With_all_guards_the_frames_keep_their_times(string project, string kind)
    {
        var on = GuardedBoard.Of(kind);
        var loaded = Load(project, s_guards[^1].Guards);
        var (plan, stimulus) = (Assert.Single(loaded.Plans), loaded.Stimuli.Values.Single());
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var latency = Latency.Check(plan, board.Simulate(stimulus), run, on.ToleranceUs);
        Assert.True(latency.Compared > 1_000);
        log.WriteLine($"{kind}: {latency.Compared} frames identical, at most {latency.WorstUs:0.0} us late, {run.Output.Measures["frames_heard"]} frames let in, stack {run.Output.Measures["stack_bytes"]} bytes, awake {run.Output.Measures["cpu_us_per_frame"]} us per frame");
    }

    private static FirmwareSize Size(string project, GuardedBoard on, string guards)
    {
        using var firmware = new FirmwareFolder(Assert.Single(Load(project, guards).Plans));
        Assert.Equal("", firmware.Make());
        return FirmwareSize.Of(on.Tools, Path.Combine(firmware.Root, "firmware.elf"));
    }

    private static Loaded Load(string project, string guards)
    {
        const string Without = "guards: {foreign sender: ignore}";
        using var folder = new TempFolder();
        foreach (var file in Directory.GetFiles(RepoRoot.Path("tests", "benchmarks", "twelve"), "*.yaml"))
            File.Copy(file, folder.Path(Path.GetFileName(file)));
        var text = File.ReadAllText(folder.Path(project));
        Assert.Contains(Without, text, StringComparison.Ordinal);
        File.WriteAllText(folder.Path(project), text.Replace(Without, $"guards: {guards}", StringComparison.Ordinal));
        var loaded = Loader.Load(folder.Path(project));
        Assert.False(loaded.Diagnostics.HasErrors);
        return loaded;
    }
}
