using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The real binaries of the demo's modules on chips that its project does not use.</summary>
public sealed class OtherChipsTests(ITestOutputHelper log)
{
    private const double ToleranceUs = 40;
    private const double AnsweringToleranceUs = 60;
    // Two buses and a node of SAE J1939 at one instant.
    private const double NodeToleranceUs = 80;
    // Frames pass the SPI one after the other.
    private const double SpiToleranceUs = 60;
    private const double SpiPairToleranceUs = 100;
    private const string Sam3x = "sam3x8e-can";
    private const string Rp2040 = "rp2040-mcp2515";

    [Theory]
    [Sampled(Sam3x, "cab", ToleranceUs)]
    [InlineData(Sam3x, "floor", NodeToleranceUs)]
    [Sampled(Sam3x, "bogie", ToleranceUs)]
    [Sampled(Sam3x, "side", ToleranceUs + 20)]
    [InlineData(Sam3x, "rear", AnsweringToleranceUs)]
    [Sampled(Rp2040, "cab", SpiToleranceUs)]
    [InlineData(Rp2040, "floor", SpiPairToleranceUs)]
    [Sampled(Rp2040, "bogie", SpiToleranceUs)]
    [Sampled(Rp2040, "side", SpiToleranceUs)]
    [InlineData(Rp2040, "rear", SpiPairToleranceUs)]
    public void Demo_modules_send_the_simulators_frames(string kind, string name, double tolerance)
    {
        var (plan, stimulus) = OtherBoards.Demo(name, kind);
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var latency = Latency.Check(plan, board.Simulate(stimulus), run, tolerance);
        Assert.True(latency.Compared > 100);
        log.WriteLine($"{name} on {kind}: {latency.Compared} frames identical, released at most {latency.WorstUs:0.0} us late, alone at most {latency.AloneUs:0.0} us");
        foreach (var measure in run.Output.Measures)
            log.WriteLine($"  {measure.Key} {measure.Value}");
        log.WriteLine(board.BuildLog.Split('\n').Last(l => l.Contains("firmware.elf", StringComparison.Ordinal) && l.Contains('\t')));
    }

    [Theory]
    [InlineData(Sam3x, ToleranceUs)]
    [InlineData(Rp2040, SpiToleranceUs)]
    public void The_listener_sends_the_simulators_frames(string kind, double tolerance)
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "Firmware", "listening"));
        var use = loaded.Project!.Boards.Single();
        var plan = BoardPlanner.Plan(OtherBoards.Move(use, kind), new Locum.Diagnostics.DiagnosticBag())!;
        using var board = new EmulatedBoard(plan);
        var run = board.Run(loaded.Stimuli[use.Name]);
        var latency = Latency.Check(plan, board.Simulate(loaded.Stimuli[use.Name]), run, tolerance);
        Assert.True(latency.Compared > 300);
        Assert.Equal(0, run.Output.Measures["overruns_counted"]);
        log.WriteLine($"{latency.Compared} frames identical, at most {latency.WorstUs:0.0} us late");
    }

    // Twelve frames on a busy bus: several wait side by side, so the order of mailboxes shows.
    [Theory]
    [InlineData(Sam3x, ToleranceUs)]
    [InlineData(Rp2040, SpiPairToleranceUs)]
    public void Frames_leave_a_busy_controller_in_the_order_of_arbitration(string kind, double tolerance)
    {
        var (plan, stimulus) = Twelve(kind);
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var latency = Latency.Check(plan, board.Simulate(stimulus), run, tolerance);
        var order = WireOrder.Check(plan, board.Simulate(stimulus), run, tolerance);
        Assert.Equal(0, order.Overtaken);
        log.WriteLine($"{kind}: {latency.Compared} frames identical, at most {latency.WorstUs:0.0} us late, asleep {run.Output.Measures["sleep_share"]}");
    }

    [Theory]
    [InlineData(Sam3x, "port/can.c", "order_of(state->ids[box]) < order_of(id)", "order_of(state->ids[box]) > order_of(id)")]
    [InlineData(Sam3x, "port/can.c", "CAN_MMR_PRIORITY((uint32_t)priority)", "CAN_MMR_PRIORITY(15u - (uint32_t)priority)")]
    [InlineData(Rp2040, "port/mcp2515.c", "if (state->orders[i] > order)", "if (state->orders[i] < order)")]
    public void A_wrong_order_is_caught(string kind, string file, string right, string wrong)
    {
        var (plan, stimulus) = Twelve(kind);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        var run = board.Run(stimulus);
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() =>
        {
            Latency.Check(plan, board.Simulate(stimulus), run, SpiPairToleranceUs);
            Assert.Equal(0, WireOrder.Check(plan, board.Simulate(stimulus), run, SpiPairToleranceUs).Overtaken);
        });
    }

    [Fact]
    public void Wrong_bit_timing_is_caught()
    {
        var (plan, stimulus) = OtherBoards.Demo("cab", Sam3x);
        using var board = EmulatedBoard.Mutated(plan, "port/can.c", "(br),", "(br) ^ 0x00010000u,");
        var run = board.Run(stimulus);
        Assert.Contains(run.Output.Faults, f => f.Contains("bit rate", StringComparison.Ordinal));
        Assert.DoesNotContain(run.Output.Frames, f => f.EndUs >= 0);
    }

    // What each register model is there for.
    [Theory]
    [Sampled(Sam3x, "port/clock.c", "PLLAR_ONE | ", "")]
    [Sampled(Sam3x, "port/clock.c", "PLLAR(14u, 1u)", "PLLAR(15u, 1u)")]
    [Sampled(Sam3x, "port/clock.c", "#define FLASH_WAIT_STATES 4u", "#define FLASH_WAIT_STATES 2u")]
    [Sampled(Sam3x, "port/can.c", "PIO_PDR(ports[bus]) = pins[bus];", "")]
    [Sampled(Sam3x, "port/can.c", "PMC_PCER1 = 1u << (ID_CAN0 + bus - 32u);", "PMC_PCER1 = 1u << (ID_CAN1 - 32u);")]
    [Sampled(Sam3x, "port/can.c", "CAN_MMR(bus, box) = CAN_MMR_DISABLED; /* as", "/* as")]
    [Sampled(Sam3x, "port/timer.c", "#define TICKS_PER_US 42u", "#define TICKS_PER_US 41u")]
    [Sampled(Sam3x, "port/timer.c", "TC_IER = TC_COMPARE_C;", "")]
    [Sampled(Sam3x, "port/inputs.c", "PIO_IER(pin->port) = mask;", "")]
    [Sampled(Sam3x, "port/can_receive.c", "CAN_MCR(bus, box) = CAN_MCR_TRANSFER;", "")]
    [Sampled(Sam3x, "port/can_receive.c", "CAN_MMR_OVERWRITE : CAN_MMR_RECEIVE", "CAN_MMR_DISABLED : CAN_MMR_DISABLED")]
    [Sampled(Sam3x, "port/board_parts.h", "(((1u << RECEIVE_BOXES) - 1u) << SEND_BOXES)", "0u")]
    [Sampled(Rp2040, "board_config.h", "0x00, 0xA7, 0x01", "0x00, 0x9F, 0x01")]
    [Sampled(Rp2040, "port/boot2.c", "#define COMMAND_READ 0x03u", "#define COMMAND_READ 0x0Bu")]
    [Sampled(Rp2040, "port/boot2.c", "SSI_ENABLE = 0;", "")]
    [Sampled(Rp2040, "port/boot2.c", "SSI_CTRLR1 = 0;", "SSI_CTRLR1 = 1;")]
    [Sampled(Rp2040, "image.c", "0x04C11DB7u", "0x04C11DB5u")]
    [Sampled(Rp2040, "port/clock.c", "PLL_FBDIV = 125u;", "PLL_FBDIV = 150u;")]
    [Sampled(Rp2040, "port/clock.c", "PLL_PRIM_DIVIDE(6u, 2u)", "PLL_PRIM_DIVIDE(5u, 2u)")]
    [Sampled(Rp2040, "port/clock.c", "#define CRYSTAL_MHZ 12u", "#define CRYSTAL_MHZ 13u")]
    [Sampled(Rp2040, "port/clock.c", "#define CRYSTAL_START 47u", "#define CRYSTAL_START 4u")]
    [Sampled(Rp2040, "port/board.c", "CLK_PERI_CTRL = CLK_PERI_ENABLE;", "")]
    [Sampled(Rp2040, "port/can.c", "#define SPI_DIVISOR 7u", "#define SPI_DIVISOR 6u")]
    [Sampled(Rp2040, "port/spi.c", "SPI_CR0_8_BITS | ", "SPI_CR0_8_BITS | 0x80u | ")]
    [Sampled(Rp2040, "port/pins.c", "IO_CTRL(SPI_MISO) = IO_FUNCTION_SPI;", "")]
    [Sampled(Rp2040, "port/pins.c", "SET_BITS(IO_INTE_ADDRESS(bit)) = IO_EDGES(bit);", "")]
    [Sampled(Rp2040, "port/pins.c", "SET_BITS(IO_INTE_ADDRESS(pin)) = IO_LEVEL_LOW(pin);", "(void)pin;")]
    [Sampled(Rp2040, "port/timer.c", "TIMER_INTE = 1u;", "")]
    [Sampled(Rp2040, "port/rp2040_registers.h", "#define RESET_SPI0 (1u << 16)", "#define RESET_SPI0 (1u << 17)")]
    [Sampled(Rp2040, "port/rp2040_registers.h", "#define IRQ_IO_BANK0 (1u << 13)", "#define IRQ_IO_BANK0 (1u << 14)")]
    public void A_port_with_a_mistake_is_caught(string kind, string file, string right, string wrong)
    {
        var (plan, stimulus) = OtherBoards.Demo("rear", kind);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => Latency.Check(plan, board.Simulate(stimulus), board.Run(stimulus), SpiPairToleranceUs));
    }

    private static (BoardPlan Plan, Stimulus Stimulus) Twelve(string kind)
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "benchmarks", "twelve", "on-stm32.yaml"));
        var use = loaded.Project!.Boards.Single();
        var plan = BoardPlanner.Plan(OtherBoards.Move(use, kind), new Locum.Diagnostics.DiagnosticBag())!;
        var stimulus = loaded.Stimuli[use.Name];
        // At 4.01 s and 4.41 s an input settles and a frame is due; which comes first is a matter of microseconds.
        return (plan, stimulus with { Clock = 0, Stalls = [], Inputs = [.. stimulus.Inputs.Select(i => i.AtUs >= 4_000_000 ? i with { AtUs = i.AtUs + 400 } : i)] });
    }
}
