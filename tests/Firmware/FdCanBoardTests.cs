using Locum.Boards;
using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Tests.Properties;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>CAN FD boards: the real binaries on emulated microcontrollers whose message RAM follows the reference manuals.</summary>
public sealed class FdCanBoardTests(ITestOutputHelper log)
{
    // As README states.
    private const double ToleranceUs = 60;
    private const double ThreeBusesToleranceUs = 80;
    private const double SlowToleranceUs = 120; // STM32G0B1

    private const string Registers = "port/fdcan_registers.h";
    private const string Chip = "port/chip_registers.h";

    public static TheoryData<string> Kinds => [.. BoardCatalogue.Names.Where(n => BoardCatalogue.Find(n)!.ControllerKind is "fdcan")];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_telematics_board_sends_the_simulators_frames(string kind)
    {
        var (plan, stimulus) = Roof(kind);
        using var board = new EmulatedBoard(plan);
        var (run, latency) = BoardCheck.Run(board, plan, stimulus, Tolerance(kind));
        Assert.True(latency.Compared > 100);
        Assert.Equal(0, run.Output.Measures["overruns"]);
        Assert.True(run.Output.Measures["frames_heard"] > 10);
        Assert.Contains(run.Output.Frames, f => f.Data.Length > 8);
        log.WriteLine($"{kind}: {latency.Compared} frames identical, released at most {latency.WorstUs:0.0} us late, {FirmwareSize.Of("arm-none-eabi-", board.Elf)}");
        foreach (var measure in run.Output.Measures)
            log.WriteLine($"  {measure.Key} {measure.Value}");
    }

    [Theory]
    [Sampled("stm32g431-fdcan", "0x3E007E1Fu", "0x3E007D1Fu", "bit rate")]
    [Sampled("stm32g431-fdcan", "0x00801C99u", "0x00801B99u", "data bit rate")]
    [Sampled("stm32g431-fdcan", "0x00801C99u", "0x00801C9Au", "jump width")]
    [Sampled("stm32g431-fdcan", "0x00001E00u", "0x00002800u", "delay compensation")]
    [Sampled("stm32g431-fdcan", "0x00001E00u", "0x00000000u", "delay compensation")]
    [Sampled("stm32g431-fdcan", "PINS_PA11_PA12", "PINS_PB8_PB9", "transmit pin")]
    [Sampled("stm32h743-fdcan", "0x1E003E0Fu", "0x1E003D0Fu", "bit rate")]
    public void Wrong_timing_or_pins_are_caught(string kind, string right, string wrong, string told)
    {
        var (plan, stimulus) = Roof(kind);
        using var board = EmulatedBoard.Mutated(plan, "board_config.h", right, wrong);
        var run = board.Run(stimulus);
        Assert.Contains(run.Output.Faults, f => f.Contains(told, StringComparison.Ordinal));
        Assert.DoesNotContain(run.Output.Frames, f => f.EndUs >= 0);
    }

    [Theory]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_E0_STANDARD_SHIFT 18u", "#define FDCAN_E0_STANDARD_SHIFT 17u")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_E0_EXTENDED (1u << 30)", "#define FDCAN_E0_EXTENDED (1u << 31)")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_E1_FD (1u << 21)", "#define FDCAN_E1_FD (1u << 22)")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_E1_SWITCH_RATE (1u << 20)", "#define FDCAN_E1_SWITCH_RATE (1u << 22)")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_E1_DLC_SHIFT 16u", "#define FDCAN_E1_DLC_SHIFT 15u")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_ELEMENT_BYTES 72u", "#define FDCAN_ELEMENT_BYTES 76u")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_TXBC_QUEUE (1u << 24)", "#define FDCAN_TXBC_QUEUE 0u", true)]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_CCCR_BRSE (1u << 9)", "#define FDCAN_CCCR_BRSE 0u")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_CCCR_FDOE (1u << 8)", "#define FDCAN_CCCR_FDOE 0u")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_CCCR_CCE (1u << 1)", "#define FDCAN_CCCR_CCE 0u")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_GFC_REJECT 0x2Bu", "#define FDCAN_GFC_REJECT 0x17u")]
    [Sampled("stm32g431-fdcan", Registers, "#define FDCAN_GFC_LSS_SHIFT 16u", "#define FDCAN_GFC_LSS_SHIFT 17u")]
    [Sampled("stm32g431-fdcan", Chip, "#define FDCAN_RAM_TRANSMIT 0x278u", "#define FDCAN_RAM_TRANSMIT 0x260u")]
    [Sampled("stm32g431-fdcan", Chip, "#define FDCAN_RAM_FIFO0 0x0B0u", "#define FDCAN_RAM_FIFO0 0x0B4u")]
    [Sampled("stm32g431-fdcan", Chip, "#define FDCAN_RAM_STANDARD 0x000u", "#define FDCAN_RAM_STANDARD 0x004u")]
    [Sampled("stm32g431-fdcan", Chip, "#define FDCAN_RAM_EXTENDED 0x070u", "#define FDCAN_RAM_EXTENDED 0x078u")]
    [Sampled("stm32g431-fdcan", Chip, "#define FDCAN_IRQ(bus) ((bus) == 0u ? 21u", "#define FDCAN_IRQ(bus) ((bus) == 0u ? 22u")]
    [Sampled("stm32g431-fdcan", Chip, "#define RCC_CCIPR_FDCAN_PCLK1 (2u << 24)", "#define RCC_CCIPR_FDCAN_PCLK1 (1u << 24)")]
    [Sampled("stm32g431-fdcan", "board_config.h", "0x38DA51F1u, 0x58DB33F1u", "0x38DA51F1u, 0x58DB33F2u")]
    [Sampled("stm32g431-fdcan", "port/can_receive.c", "FDCAN_RXF0A(bus) = get;", "")]
    [Sampled("stm32g431-fdcan", "port/can_receive.c", "element[2u + at / 4u]", "element[1u + at / 4u]")]
    [Sampled("stm32g431-fdcan", "port/can.c", "#define WAKES_FOR_FRAMES FDCAN_IR_RF0N", "#define WAKES_FOR_FRAMES 0u")]
    [Sampled("stm32g431-fdcan", "port/can.c", "FDCAN_TXBAR(bus) = 1u << put;", "FDCAN_TXBAR(bus) = 2u << put;")]
    [Sampled("stm32g431-fdcan", "port/can.c", "*buffer(bus, mailbox) == identifier)", "*buffer(bus, mailbox) == ~identifier)", true)]
    [Sampled("stm32h743-fdcan", Registers, "#define FDCAN_TXBC_SIZE_SHIFT 24u", "#define FDCAN_TXBC_SIZE_SHIFT 16u")]
    [Sampled("stm32h743-fdcan", Registers, "#define FDCAN_TXBC_QUEUE (1u << 30)", "#define FDCAN_TXBC_QUEUE 0u", true)]
    [Sampled("stm32h743-fdcan", Registers, "#define FDCAN_ESC_64_BYTES 7u", "#define FDCAN_ESC_64_BYTES 6u")]
    [Sampled("stm32h743-fdcan", Registers, "#define FDCAN_LIST_SIZE_SHIFT 16u", "#define FDCAN_LIST_SIZE_SHIFT 17u")]
    [Sampled("stm32h743-fdcan", Registers, "#define FDCAN_IR_TC (1u << 9)", "#define FDCAN_IR_TC (1u << 7)", true)]
    [Sampled("stm32h743-fdcan", Chip, "#define FDCAN_RAM_FIFO0 0x0B0u", "#define FDCAN_RAM_FIFO0 0x078u")]
    [Sampled("stm32h743-fdcan", Chip, "PWR_CR3 = PWR_CR3_REGULATOR;", "")]
    [Sampled("stm32g0b1-fdcan", Chip, "#define EXTI_SOURCE_BITS 8u", "#define EXTI_SOURCE_BITS 4u", true)]
    [Sampled("stm32g0b1-fdcan", Chip, "(0x4000B400u + 0x350u", "(0x4000A400u + 0x350u")]
    [Sampled("stm32g0b1-fdcan", Chip, "#define FDCAN_IRQ(bus) (21u", "#define FDCAN_IRQ(bus) (20u")]
    public void Wrong_firmware_is_caught(string kind, string file, string right, string wrong, bool crowded = false)
    {
        var (plan, stimulus) = crowded ? CrowdedBoard.On(kind, 1) : Roof(kind);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => BoardCheck.Run(board, plan, stimulus, Tolerance(kind)));
    }

    private static double Tolerance(string kind) => kind switch
    {
        "stm32g0b1-fdcan" => SlowToleranceUs,
        "stm32g474-fdcan" => ThreeBusesToleranceUs,
        _ => ToleranceUs,
    };

    /// <summary>The demo's CAN FD module on a board.</summary>
    internal static (BoardPlan Plan, Stimulus Stimulus) Roof(string kind)
    {
        var (onPc, stimulus) = EmulatedBoardTests.Demo("roof");
        var loaded = Loader.Load(RepoRoot.Path("projects", "depot-loco"));
        var plan = GeneratedProject.On(kind, loaded.Project!.Boards.Single(b => b.Name == onPc.Name))!;
        // At 1 s a request and a frame of the board meet; which comes first is a matter of microseconds.
        return (plan, stimulus with { Traffic = [.. stimulus.Traffic.Select(t => t.FirstUs is 1_000_000 ? t with { FirstUs = 1_003_000, UntilUs = t.UntilUs + 3_000 } : t)] });
    }

    // Another crystal is a matter of the Makefile alone.
    [Theory]
    [InlineData("stm32f405-bxcan", 25)]
    [InlineData("stm32g431-fdcan", 24)]
    [InlineData("stm32g0b1-fdcan", 12)]
    [InlineData("stm32h743-fdcan", 25)]
    public void A_board_with_another_crystal_keeps_its_rates(string kind, int mhz)
    {
        var (plan, stimulus) = CrowdedBoard.On(kind, 1);
        using var board = EmulatedBoard.Mutated(plan, "Makefile", "CRYSTAL ?= 8", $"CRYSTAL ?= {mhz}");
        Latency.Check(plan, board.Simulate(stimulus), board.Run(stimulus, "--crystal-hz", $"{mhz}000000"), Tolerance(kind));
        Assert.Contains(board.Emulate(new Stimulus { EndUs = 100_000 }).Faults, f => f.Length > 0);
    }

    [Theory]
    [InlineData("stm32g474-fdcan", 3)]
    [InlineData("stm32h743-fdcan", 2)]
    [InlineData("stm32g0b1-fdcan", 2)]
    public void Every_controller_of_a_board_sends_and_listens(string kind, int buses)
    {
        var (plan, stimulus) = CrowdedBoard.On(kind, buses);
        using var board = new EmulatedBoard(plan);
        var (run, latency) = BoardCheck.Run(board, plan, stimulus, Tolerance(kind));
        Assert.Equal(buses, run.Output.Frames.Select(f => f.Bus).Distinct().Count());
        Assert.Equal(0, run.Output.Measures["overruns"]);
        log.WriteLine($"{kind}: {latency.Compared} frames identical on {buses} buses, released at most {latency.WorstUs:0.0} us late, {FirmwareSize.Of("arm-none-eabi-", board.Elf)}");
    }
}
