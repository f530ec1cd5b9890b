using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>Boards with a pair of bxCAN controllers that share their filters, and the chips whose ports have a mode register.</summary>
public sealed class BxCanPairTests(ITestOutputHelper log)
{
    // As README states.
    private const double ToleranceUs = 60;
    private const string Registers = "port/bxcan_registers.h";
    private const string Chip = "port/chip_registers.h";

    [Theory]
    [InlineData("stm32f105-bxcan", 1)]
    [InlineData("stm32f105-bxcan", 2)]
    [InlineData("stm32f405-bxcan", 1)]
    [InlineData("stm32f405-bxcan", 2)]
    [InlineData("stm32f446-bxcan", 2)]
    public void Every_controller_sends_and_listens(string kind, int buses)
    {
        var (plan, stimulus) = CrowdedBoard.On(kind, buses);
        using var board = new EmulatedBoard(plan);
        var (run, latency) = BoardCheck.Run(board, plan, stimulus, ToleranceUs);
        Assert.Equal(buses, run.Output.Frames.Select(f => f.Bus).Distinct().Count());
        Assert.Equal(0, run.Output.Measures["overruns"]);
        log.WriteLine($"{kind}: {latency.Compared} frames identical on {buses} buses, released at most {latency.WorstUs:0.0} us late, {FirmwareSize.Of("arm-none-eabi-", board.Elf)}");
        foreach (var measure in run.Output.Measures)
            log.WriteLine($"  {measure.Key} {measure.Value}");
    }

    [Theory]
    [Sampled("stm32f405-bxcan", "port/can_receive.c", "(OWN_BANKS << BXCAN_FMR_SECOND_SHIFT)", "(15u << BXCAN_FMR_SECOND_SHIFT)")]
    [Sampled("stm32f405-bxcan", "port/can_receive.c", "#define OWN_BANKS 14u", "#define OWN_BANKS 0u")]
    [Sampled("stm32f405-bxcan", "port/can_receive.c", "BXCAN_FS1R |= sets[bus].wide << first;", "BXCAN_FS1R |= sets[bus].wide;")]
    [Sampled("stm32f405-bxcan", "port/can_receive.c", "        .bus = bus,\n", "")]
    [Sampled("stm32f405-bxcan", "port/can.c", "enable_irq(BXCAN_IRQ_RX0(bus));", "")]
    [Sampled("stm32f405-bxcan", Registers, "(BXCAN_IRQ_TX(bus) + 1u)", "(BXCAN_IRQ_TX(bus) + 2u)")]
    [Sampled("stm32f405-bxcan", Registers, "(0x40006400u + 0x400u * (bus))", "(0x40006400u + 0x800u * (bus))")]
    [Sampled("stm32f405-bxcan", Chip, "RCC_APB1_CAN1 | (LOCUM_BUSES", "0u | (LOCUM_BUSES")]
    [Sampled("stm32f405-bxcan", Chip, "CAN_PIN(B, 12, 9), CAN_PIN(B, 13, 9)", "CAN_PIN(B, 12, 8), CAN_PIN(B, 13, 8)")]
    [Sampled("stm32f405-bxcan", Chip, "#define FLASH_ACR_TWO_WAIT_STATES 2u", "#define FLASH_ACR_TWO_WAIT_STATES 1u")]
    [Sampled("stm32f405-bxcan", "board_config.h", "#define CHIP_CORE_MHZ 84u", "#define CHIP_CORE_MHZ 90u")]
    [Sampled("stm32f446-bxcan", "board_config.h", "#define CHIP_CORE_MHZ 90u", "#define CHIP_CORE_MHZ 84u")]
    [Sampled("stm32f446-bxcan", "port/core_registers.h", "#define GPIO_ALTERNATE 2u", "#define GPIO_ALTERNATE 3u")]
    [Sampled("stm32f105-bxcan", Chip, "#define RCC_APB1_CAN2 (1u << 26)", "#define RCC_APB1_CAN2 (1u << 27)")]
    [Sampled("stm32f105-bxcan", Chip, "#define CAN2_PINS_PB12_PB13 CAN_PIN(B, 12, 0)", "#define CAN2_PINS_PB12_PB13 CAN_PIN(B, 12, 2)")]
    public void Wrong_firmware_is_caught(string kind, string file, string right, string wrong)
    {
        var (plan, stimulus) = CrowdedBoard.On(kind, 2);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => BoardCheck.Run(board, plan, stimulus, ToleranceUs));
    }
}
