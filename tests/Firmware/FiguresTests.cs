using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Rendering;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>What twelve frames cost on each emulated board. The emulated clocks are exact, so the figures belong to the code and not to the PC.</summary>
public sealed class FiguresTests(ITestOutputHelper log)
{
    private const string Avr = "avr-mcp2515";
    private const string Stm32 = "stm32f103-bxcan";
    private const string SendCall = "if (locum_port_send(&frame)) {";
    private const double AvrToleranceUs = 300;
    private const double BxCanToleranceUs = 40;

    // The call as it is compiled into the scheduler, between two marks that the emulator sees.
    private const string MarkedSendCall =
        """
        GPIOR1 = 1;
                __asm__ volatile("" ::: "memory");
                const bool taken = locum_port_send(&frame);
                __asm__ volatile("" ::: "memory");
                GPIOR1 = 0;
                if (taken) {
        """;

    private readonly FigureTable _table = new();

    [Fact]
    public void Twelve_frames_keep_their_figures()
    {
        MeasureAvr();
        MeasureStm32();
        log.WriteLine(_table.ToString());
        Committed.Hold(RepoRoot.Path("tests", "Firmware", "figures.txt"), _table);
    }

    [Theory]
    [InlineData("on-avr.yaml", AvrToleranceUs)]
    [InlineData("on-stm32.yaml", BxCanToleranceUs)]
    public void A_long_run_equals_the_simulators(string project, double tolerance)
    {
        // An hour, past half of the 32-bit clock, takes long: on request only.
        var end = Environment.GetEnvironmentVariable("LOCUM_LONG") is "1" ? 3_600_000_000 : 10_000_000;
        var (plan, stimulus) = Twelve(project);
        var longer = stimulus with { EndUs = end, Traffic = [.. stimulus.Traffic.Select(t => t with { UntilUs = end })] };
        using var board = new EmulatedBoard(plan);
        var latency = Latency.Check(plan, board.Simulate(longer), board.Run(longer), tolerance);
        Assert.True(latency.Compared > end / 4_000);
        log.WriteLine($"{plan.Kind.Name}: {latency.Compared} frames identical in {end / 1_000_000} s, released at most {latency.WorstUs:0.0} us late");
    }

    private void MeasureAvr()
    {
        var (plan, stimulus) = Twelve("on-avr.yaml");
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var measures = run.Output.Measures;
        var latency = Common(Avr, "avr-", plan, board, run, stimulus);
        using var marked = new EmulatedBoard(plan, Mark);
        var call = marked.Run(stimulus).Output.Measures;
        var send = measures["send_us_per_frame"] / measures["send_spi_us_per_frame"];
        var wholeCall = call["marked_us_per_frame"] / call["marked_spi_us_per_frame"];
        _table.Set(Avr, "SPI wire time per frame, us", measures["spi_us_per_frame"], 2);
        _table.Set(Avr, "load to request: CPU time / wire time", send, 3);
        _table.Set(Avr, "whole send call, us", call["marked_us_per_frame"], 2);
        _table.Set(Avr, "whole send call: CPU time / wire time", wholeCall, 3);
        Assert.InRange(Ram(plan, board, run), 1, 512);
        Assert.InRange(FirmwareSize.Of("avr-", board.Elf).Flash, 1, 8 * 1024);
        Assert.InRange(latency.JitterUs, 0, 50);
        Assert.InRange(send, 1, 1.5);
        Assert.InRange(wholeCall, 1, 1.5);
    }

    private void MeasureStm32()
    {
        var (plan, stimulus) = Twelve("on-stm32.yaml");
        using var board = new EmulatedBoard(plan);
        var latency = Common(Stm32, "arm-none-eabi-", plan, board, board.Run(stimulus), stimulus);
        Assert.InRange(latency.JitterUs, 0, 10);
    }

    private Latency Common(string name, string tools, BoardPlan plan, EmulatedBoard board, EmulatedRun run, Stimulus stimulus)
    {
        var expected = board.Simulate(stimulus);
        Assert.InRange(BusLoad(plan, expected), 0.78, 0.84);
        var latency = Latency.Check(plan, expected, run, name == Stm32 ? BxCanToleranceUs : AvrToleranceUs);
        Assert.True(latency.Compared > 1_700);
        var size = FirmwareSize.Of(tools, board.Elf);
        var measures = run.Output.Measures;
        _table.Set(name, "flash, bytes", size.Flash);
        _table.Set(name, "static RAM, bytes", size.StaticRam);
        _table.Set(name, "deepest stack, bytes", measures["stack_bytes"]);
        _table.Set(name, "frames, all as simulated", latency.Compared);
        _table.Set(name, "release delay of a frame alone, us", latency.AloneUs, 1);
        _table.Set(name, "release jitter of a frame alone, us", latency.JitterUs, 1);
        _table.Set(name, "worst release delay, us", latency.WorstUs, 1);
        _table.Set(name, "CPU awake per frame, us", measures["cpu_us_per_frame"], 1);
        _table.Set(name, "CPU asleep, share of the time", measures["sleep_share"], 3);
        _table.Set(name, "reset to running, us", measures["clock_start_us"]);
        _table.Set(name, "reset to first frame, us", measures["first_frame_us"]);
        return latency;
    }

    private static int Ram(BoardPlan plan, EmulatedBoard board, EmulatedRun run) =>
        FirmwareSize.Of(plan.Kind.Name is Avr ? "avr-" : "arm-none-eabi-", board.Elf).StaticRam + (int)run.Output.Measures["stack_bytes"];

    private static double BusLoad(BoardPlan plan, SimulationResult result) =>
        Reporting.Summary.Of([plan], result).Buses.Single().Load;

    private static OutputFile Mark(OutputFile file)
    {
        if (file.Path is not "core/locum_core.c")
            return file;
        Assert.Contains(SendCall, file.Text, StringComparison.Ordinal);
        return file with { Text = "#include <avr/io.h>\n" + file.Text.Replace(SendCall, MarkedSendCall, StringComparison.Ordinal) };
    }

    private static (BoardPlan Plan, Stimulus Stimulus) Twelve(string project)
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "benchmarks", "twelve", project));
        Assert.Empty(loaded.Diagnostics.Sorted);
        var plan = Assert.Single(loaded.Plans);
        Assert.Equal(12, plan.Frames.Count);
        return (plan, loaded.Stimuli[plan.Name]);
    }
}
