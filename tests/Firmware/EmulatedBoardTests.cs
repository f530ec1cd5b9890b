using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The real binaries of the demo boards on emulated microcontrollers.</summary>
public sealed class EmulatedBoardTests(ITestOutputHelper log)
{
    // Release within this time of the simulator's: the tolerance that README states.
    private const double AvrToleranceUs = 300;
    private const double AvrListeningToleranceUs = 500;
    private const double BxCanToleranceUs = 40;
    private const double OutputsToleranceUs = 60;
    private const double AnsweringToleranceUs = 60;

    [Theory]
    [InlineData("cab", AvrToleranceUs)]
    [InlineData("floor", AvrListeningToleranceUs)]
    [InlineData("bogie", BxCanToleranceUs)]
    [InlineData("side", OutputsToleranceUs)]
    [InlineData("rear", AnsweringToleranceUs)]
    public void Demo_board_sends_the_simulators_frames(string name, double tolerance)
    {
        var (plan, stimulus) = Demo(name);
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var latency = Latency.Check(plan, board.Simulate(stimulus), run, tolerance);
        Assert.True(latency.Compared > 100);
        log.WriteLine($"{name} on {plan.Kind.Name}: {latency.Compared} frames identical, released at most {latency.WorstUs:0.0} us late, alone at most {latency.AloneUs:0.0} us, jitter {latency.JitterUs:0.0} us");
        foreach (var measure in run.Output.Measures)
            log.WriteLine($"  {measure.Key} {measure.Value}");
    }

    // One quantum less in the first segment: a legal setting, another rate.
    [Theory]
    [InlineData("cab", "0x00, 0xA7, 0x01", "0x00, 0x9F, 0x01")]
    [InlineData("bogie", "0x00050008u", "0x00040008u")]
    public void Wrong_bit_timing_is_caught(string name, string right, string wrong)
    {
        var (plan, stimulus) = Demo(name);
        using var board = EmulatedBoard.Mutated(plan, "board_config.h", right, wrong);
        var run = board.Run(stimulus);
        Assert.Contains(run.Output.Faults, f => f.Contains("bit rate", StringComparison.Ordinal));
        Assert.DoesNotContain(run.Output.Frames, f => f.EndUs >= 0);
    }

    [Theory]
    [InlineData("cab", "module_cab_heat.c", "{0x00u, 0x00u, 0x7Au,", "{0x00u, 0x00u, 0x7Bu,")]
    [InlineData("cab", "locum_tables.c", "20000u, 7000u,", "21000u, 7000u,")]
    [InlineData("cab", "module_cab_heat.c", "== 14u", "== 13u")]
    [InlineData("cab", "core/locum_core.c", "states[row].due_us += distance_us;", "states[row].due_us = now_us + distance_us;")]
    [InlineData("bogie", "locum_tables.c", "10000u, 4000u,", "10000u, 5000u,")]
    [InlineData("bogie", "module_wheel_slip.c", "0x1Du,", "0x1Cu,")]
    public void Mutated_firmware_is_caught(string name, string file, string right, string wrong)
    {
        var (plan, stimulus) = Demo(name);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        var run = board.Run(stimulus);
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => Latency.Check(plan, board.Simulate(stimulus), run, AvrToleranceUs));
    }

    internal static (BoardPlan Plan, Stimulus Stimulus) Demo(string board)
    {
        var loaded = Loader.Load(RepoRoot.Path("projects", "depot-loco"));
        Assert.False(loaded.Diagnostics.HasErrors);
        var plan = loaded.Plans.Single(p => p.Name == board);
        // The emulators' clock starts at 0 and never stalls; the PC program covers both.
        return (plan, loaded.Stimuli[board] with { Clock = 0, Stalls = [] });
    }
}
