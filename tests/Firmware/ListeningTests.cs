using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>Boards that listen to other nodes, on the emulated microcontroller: filters, FIFO, waking, following.</summary>
public sealed class ListeningTests(ITestOutputHelper log)
{
    private const double ToleranceUs = 40;
    private const string ShortBank = "BANK(0xF818A000u, 0xFFF82AA0u)";
    private const string LongBank = "BANK(0x87F8000Cu, 0xFFF807FEu)";
    private const string Receive = "port/can_receive.c";

    [Fact]
    public void The_listener_sends_the_simulators_frames()
    {
        var (plan, stimulus) = Listener();
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var expected = board.Simulate(stimulus);
        var latency = Latency.Check(plan, expected, run, ToleranceUs);
        Assert.True(latency.Compared > 300);
        Assert.Equal(4, expected.Modes.Select(m => m.Mode).Distinct().Count());
        Assert.Equal(Heard(plan, expected), run.Output.Measures["frames_heard"]);
        Assert.Equal(0, run.Output.Measures["overruns"]);
        var answers = AfterReception(plan, expected, run);
        Assert.True(answers.Count > 30);
        log.WriteLine($"{latency.Compared} frames identical; {answers.Count} of them released by a reception, {answers.Min():0.0} to {answers.Max():0.0} us after its end");
    }

    [Fact]
    public void The_demo_follows_the_drive_speed()
    {
        var (plan, disturbed) = EmulatedBoardTests.Demo("bogie");
        var stimulus = disturbed with { BusOffs = [] }; // frames that pass meanwhile are not heard
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var expected = board.Simulate(stimulus);
        Latency.Check(plan, expected, run, ToleranceUs);
        Assert.Equal(Heard(plan, expected), run.Output.Measures["frames_heard"]);
        Assert.True(run.Output.Frames.Select(f => Convert.ToHexString(f.Data.AsSpan(1, 2))).Distinct().Count() > 5);
    }

    // A filter that lets too much in costs time only: the core drops the rest. The count of frames tells.
    [Theory]
    [InlineData(ShortBank, "BANK(0xF018A000u, 0xFFF82AA0u)")]
    [InlineData("#define LOCUM_FILTER_FA1R 0x0003u", "#define LOCUM_FILTER_FA1R 0x0007u")]
    public void A_filter_that_is_too_wide_is_seen(string right, string wrong)
    {
        var (plan, stimulus) = Listener();
        using var board = EmulatedBoard.Mutated(plan, "board_config.h", right, wrong);
        var run = board.Run(stimulus);
        var expected = board.Simulate(stimulus);
        Latency.Check(plan, expected, run, ToleranceUs);
        Assert.True(run.Output.Measures["frames_heard"] > Heard(plan, expected));
    }

    [Theory]
    [Sampled("board_config.h", ShortBank, "BANK(0xFFF8A000u, 0xFFF82AA0u)")]
    [Sampled("board_config.h", ShortBank, "BANK(0xF818A000u, 0xFFF82AC0u)")]
    [Sampled("board_config.h", LongBank, "BANK(0x87F80014u, 0xFFF807FEu)")]
    [Sampled("board_config.h", LongBank, "BANK(0x87F80008u, 0xFFF807FEu)")]
    [Sampled("board_config.h", "#define LOCUM_FILTER_FS1R 0x0002u", "#define LOCUM_FILTER_FS1R 0x0000u")]
    [Sampled("board_config.h", "#define LOCUM_FILTER_FM1R 0x0000u", "#define LOCUM_FILTER_FM1R 0x0002u")]
    [Sampled("board_config.h", "#define LOCUM_FILTER_FA1R 0x0003u", "#define LOCUM_FILTER_FA1R 0x0001u")]
    [Sampled("locum_tables.c", "0x000007C0u", "0x000007FFu")]
    [Sampled("port/stm32f103_registers.h", "#define CAN_RIR_STANDARD_SHIFT 21u", "#define CAN_RIR_STANDARD_SHIFT 20u")]
    [Sampled("port/stm32f103_registers.h", "#define CAN_RIR_EXTENDED_SHIFT 3u", "#define CAN_RIR_EXTENDED_SHIFT 2u")]
    [Sampled("port/stm32f103_registers.h", "#define CAN_RIR_IDE (1u << 2)", "#define CAN_RIR_IDE (1u << 0)")]
    [Sampled("port/can.c", "#define WAKES_FOR_FRAMES CAN_IER_FMPIE0", "#define WAKES_FOR_FRAMES 0u")]
    [Sampled("port/can.c", " | NVIC_BIT(IRQ_CAN_RX0)", "")]
    [Sampled(Receive, "CAN_RF0R = CAN_RF0R_RFOM;", "")]
    [Sampled(Receive, "{CAN_RDL0R, CAN_RDH0R}", "{CAN_RDL0R, CAN_RDL0R}")]
    [Sampled(Receive, "CAN_FFA1R = 0;", "CAN_FFA1R = 1;")]
    [Sampled(Receive, "CAN_FA1R = LOCUM_FILTER_FA1R;", "")]
    [Sampled(Receive, "CAN_FMR &= ~CAN_FMR_FINIT;", "")]
    public void Wrong_reception_is_caught(string file, string right, string wrong)
    {
        var (plan, stimulus) = Listener();
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        var run = board.Run(stimulus);
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => Latency.Check(plan, board.Simulate(stimulus), run, ToleranceUs));
    }

    // Six frames come while the program is held up: the FIFO keeps the two oldest and the newest.
    [Fact]
    public void An_overrun_is_counted_and_the_newest_frame_stays()
    {
        var (plan, stimulus) = EmulatedBoardTests.Demo("bogie");
        var held = stimulus with { Stalls = [new Stall(1_195_000, 1_315_000)] };
        using var board = new EmulatedBoard(plan);
        var run = board.Run(held);
        // After the hold-up three frames are read before anything is sent.
        Latency.Check(plan, board.Simulate(held), run, 2 * ToleranceUs);
        Assert.Equal(3, run.Output.Measures["overruns"]);
        Assert.Equal(1, run.Output.Measures["overruns_counted"]);
    }

    [Fact]
    public void Who_does_not_listen_pays_nothing()
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "benchmarks", "twelve", "on-stm32.yaml"));
        var (plan, stimulus) = (loaded.Plans[0], loaded.Stimuli[loaded.Plans[0].Name]);
        using var deaf = new EmulatedBoard(plan);
        using var listening = new EmulatedBoard(Listener().Plan);
        Assert.DoesNotContain("receive", Symbols(deaf), StringComparison.Ordinal);
        Assert.DoesNotContain("can_overruns", Symbols(deaf), StringComparison.Ordinal);
        Assert.Contains("locum_port_receive", Symbols(listening), StringComparison.Ordinal);
        Assert.Equal(0, deaf.Run(stimulus).Output.Measures["frames_heard"]);
    }

    internal static (BoardPlan Plan, Stimulus Stimulus) Listener()
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "Firmware", "listening"));
        Assert.Empty(loaded.Diagnostics.Sorted);
        var plan = Assert.Single(loaded.Plans);
        return (plan, loaded.Stimuli[plan.Name]);
    }

    /// <summary>How long after a reception's end the frames were requested that the reception releases, µs. The simulator takes no time for it.</summary>
    internal static IReadOnlyList<double> AfterReception(BoardPlan plan, SimulationResult expected, EmulatedRun run)
    {
        var ends = expected.Frames.Where(f => f.Sender.Length is 0 && IsHeard(plan, f.Bus, f.Id)).Select(f => f.EndUs).ToHashSet();
        var own = expected.Frames.Where(f => f.Sender.Length > 0).OrderBy(f => f.AcceptedUs).ThenBy(f => f.Id.ArbitrationKey);
        return [.. own.Zip(run.Output.Frames.OrderBy(f => f.AcceptedUs))
            .Where(p => ends.Contains(p.First.AcceptedUs))
            .Select(p => run.Clock.Simulated(p.Second.AcceptedUs) - p.First.AcceptedUs)];
    }

    /// <summary>Frames of other nodes that a board's filters let in, if they are exact.</summary>
    internal static int Heard(BoardPlan plan, SimulationResult expected) => expected.Frames.Count(f => f.Sender.Length is 0 && f.EndUs >= 0 && IsHeard(plan, f.Bus, f.Id));

    // Filters see the identifier, not the length.
    internal static bool IsHeard(BoardPlan plan, string bus, Locum.Wire.CanId id) =>
        plan.Modules.Any(m => m.Module.Receives.Any(r => plan.Buses[m.Buses[r.Bus]].Name == bus && r.Matches(id, 8)));

    private static string Symbols(EmulatedBoard board) => Shell.Must("arm-none-eabi-nm", [board.Elf]);
}
