using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The real binaries of the demo's modules on chips that its project does not use.</summary>
public sealed class OtherChipsTests(Emulators emulators, ITestOutputHelper log) : IClassFixture<Emulators>
{
    private const double ToleranceUs = 40;
    private const double AnsweringToleranceUs = 60;
    // Two buses and a node of SAE J1939 at one instant.
    private const double NodeToleranceUs = 80;
    private const string Sam3x = "sam3x8e-can";

    [Theory]
    [InlineData(Sam3x, "cab", ToleranceUs)]
    [InlineData(Sam3x, "floor", NodeToleranceUs)]
    [InlineData(Sam3x, "bogie", ToleranceUs)]
    [InlineData(Sam3x, "side", ToleranceUs)]
    [InlineData(Sam3x, "rear", AnsweringToleranceUs)]
    public void Demo_modules_send_the_simulators_frames(string kind, string name, double tolerance)
    {
        var (plan, stimulus) = OtherBoards.Demo(name, kind);
        using var board = new EmulatedBoard(emulators, plan);
        var run = board.Run(stimulus);
        var latency = Latency.Check(plan, board.Simulate(stimulus), run, tolerance);
        Assert.True(latency.Compared > 100);
        log.WriteLine($"{name} on {kind}: {latency.Compared} frames identical, released at most {latency.WorstUs:0.0} us late, alone at most {latency.AloneUs:0.0} us");
        foreach (var measure in run.Output.Measures)
            log.WriteLine($"  {measure.Key} {measure.Value}");
        log.WriteLine(board.BuildLog.Split('\n').Last(l => l.Contains("firmware.elf", StringComparison.Ordinal) && l.Contains('\t')));
    }

    [Fact]
    public void The_listener_sends_the_simulators_frames()
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "Firmware", "listening"));
        var use = loaded.Project!.Boards.Single();
        var plan = BoardPlanner.Plan(OtherBoards.Move(use, Sam3x), new Locum.Diagnostics.DiagnosticBag())!;
        using var board = new EmulatedBoard(emulators, plan);
        var run = board.Run(loaded.Stimuli[use.Name]);
        var latency = Latency.Check(plan, board.Simulate(loaded.Stimuli[use.Name]), run, ToleranceUs);
        Assert.True(latency.Compared > 300);
        Assert.Equal(0, run.Output.Measures["overruns_counted"]);
        log.WriteLine($"{latency.Compared} frames identical, at most {latency.WorstUs:0.0} us late");
    }

    // Twelve frames on a busy bus: several wait side by side, so the order of mailboxes shows.
    [Theory]
    [InlineData(Sam3x)]
    public void Frames_leave_a_busy_controller_in_the_order_of_arbitration(string kind)
    {
        var (plan, stimulus) = Twelve(kind);
        using var board = new EmulatedBoard(emulators, plan);
        var run = board.Run(stimulus);
        var latency = Latency.Check(plan, board.Simulate(stimulus), run, ToleranceUs);
        var order = WireOrder.Check(plan, board.Simulate(stimulus), run, ToleranceUs);
        Assert.Equal(0, order.Overtaken);
        log.WriteLine($"{kind}: {latency.Compared} frames identical, at most {latency.WorstUs:0.0} us late, asleep {run.Output.Measures["sleep_share"]}");
    }

    [Theory]
    [InlineData(Sam3x, "port/can.c", "order_of(state->ids[box]) < order_of(id)", "order_of(state->ids[box]) > order_of(id)")]
    [InlineData(Sam3x, "port/can.c", "CAN_MMR_PRIORITY((uint32_t)priority)", "CAN_MMR_PRIORITY(15u - (uint32_t)priority)")]
    public void A_wrong_order_is_caught(string kind, string file, string right, string wrong)
    {
        var (plan, stimulus) = Twelve(kind);
        using var board = EmulatedBoard.Mutated(emulators, plan, file, right, wrong);
        var run = board.Run(stimulus);
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() =>
        {
            Latency.Check(plan, board.Simulate(stimulus), run, ToleranceUs);
            Assert.Equal(0, WireOrder.Check(plan, board.Simulate(stimulus), run, ToleranceUs).Overtaken);
        });
    }

    [Fact]
    public void Wrong_bit_timing_is_caught()
    {
        var (plan, stimulus) = OtherBoards.Demo("cab", Sam3x);
        using var board = EmulatedBoard.Mutated(emulators, plan, "port/can.c", "(br),", "(br) ^ 0x00010000u,");
        var run = board.Run(stimulus);
        Assert.Contains(run.Output.Faults, f => f.Contains("bit rate", StringComparison.Ordinal));
        Assert.DoesNotContain(run.Output.Frames, f => f.EndUs >= 0);
    }

    // What each register model is there for.
    [Theory]
    [InlineData(Sam3x, "port/clock.c", "PLLAR_ONE | ", "")]
    [InlineData(Sam3x, "port/clock.c", "PLLAR(14u, 1u)", "PLLAR(15u, 1u)")]
    [InlineData(Sam3x, "port/clock.c", "#define FLASH_WAIT_STATES 4u", "#define FLASH_WAIT_STATES 2u")]
    [InlineData(Sam3x, "port/can.c", "PIO_PDR(ports[bus]) = pins[bus];", "")]
    [InlineData(Sam3x, "port/can.c", "PMC_PCER1 = 1u << (ID_CAN0 + bus - 32u);", "PMC_PCER1 = 1u << (ID_CAN1 - 32u);")]
    [InlineData(Sam3x, "port/can.c", "CAN_MMR(bus, box) = CAN_MMR_DISABLED; /* as", "/* as")]
    [InlineData(Sam3x, "port/timer.c", "#define TICKS_PER_US 42u", "#define TICKS_PER_US 41u")]
    [InlineData(Sam3x, "port/timer.c", "TC_IER = TC_COMPARE_C;", "")]
    [InlineData(Sam3x, "port/inputs.c", "PIO_IER(pin->port) = mask;", "")]
    [InlineData(Sam3x, "port/can_receive.c", "CAN_MCR(bus, box) = CAN_MCR_TRANSFER;", "")]
    [InlineData(Sam3x, "port/can_receive.c", "CAN_MMR_OVERWRITE : CAN_MMR_RECEIVE", "CAN_MMR_DISABLED : CAN_MMR_DISABLED")]
    [InlineData(Sam3x, "port/board_parts.h", "(((1u << RECEIVE_BOXES) - 1u) << SEND_BOXES)", "0u")]
    public void A_port_with_a_mistake_is_caught(string kind, string file, string right, string wrong)
    {
        var (plan, stimulus) = OtherBoards.Demo("rear", kind);
        using var board = EmulatedBoard.Mutated(emulators, plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => Latency.Check(plan, board.Simulate(stimulus), board.Run(stimulus), AnsweringToleranceUs));
    }

    private static (BoardPlan Plan, Stimulus Stimulus) Twelve(string kind)
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "benchmarks", "twelve", "on-stm32.yaml"));
        var use = loaded.Project!.Boards.Single();
        var plan = BoardPlanner.Plan(OtherBoards.Move(use, kind), new Locum.Diagnostics.DiagnosticBag())!;
        return (plan, loaded.Stimuli[use.Name] with { Clock = 0, Stalls = [] });
    }
}
