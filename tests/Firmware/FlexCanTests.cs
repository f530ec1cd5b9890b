using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The i.MX RT1062 with its FlexCAN controllers: the demo's modules, CAN FD, crowded buses, wrong firmware.</summary>
public sealed class FlexCanTests(ITestOutputHelper log)
{
    private const string Kind = "imxrt1062-flexcan";
    private const string Registers = "port/flexcan_registers.h";
    private const double ToleranceUs = 20;

    [Fact]
    public void The_telematics_board_sends_the_simulators_frames()
    {
        var (plan, stimulus) = FdCanBoardTests.Roof(Kind);
        Assert.Equal("CAN3", Assert.Single(plan.Buses, b => b.DataRate is not null).Settings["controller"]);
        using var board = new EmulatedBoard(plan);
        var (run, latency) = BoardCheck.Run(board, plan, stimulus, ToleranceUs);
        Assert.True(latency.Compared > 100);
        Assert.Equal(0, run.Output.Measures["overruns_counted"]);
        Assert.Contains(run.Output.Frames, f => f.Data.Length > 8);
        log.WriteLine($"{latency.Compared} frames identical, released at most {latency.WorstUs:0.0} us late, {FirmwareSize.Of("arm-none-eabi-", board.Elf)}");
        foreach (var measure in run.Output.Measures)
            log.WriteLine($"  {measure.Key} {measure.Value}");
    }

    [Theory]
    [InlineData("cab")]
    [InlineData("floor")]
    [InlineData("rear")]
    public void Demo_modules_send_the_simulators_frames(string name)
    {
        var (plan, stimulus) = OtherBoards.Demo(name, Kind);
        // At 2.03 s and 14.02 s an input settles and a frame is due; which comes first is a matter of microseconds.
        stimulus = stimulus with { Inputs = [.. stimulus.Inputs.Select(i => i.AtUs >= 2_000_000 ? i with { AtUs = i.AtUs + 1_000 } : i)] };
        using var board = new EmulatedBoard(plan);
        var latency = Latency.Check(plan, board.Simulate(stimulus), board.Run(stimulus), ToleranceUs);
        Assert.True(latency.Compared > 100);
        log.WriteLine($"{name}: {latency.Compared} frames identical, released at most {latency.WorstUs:0.0} us late");
    }

    // One bus of the three can carry CAN FD, so the other two are classic.
    [Fact]
    public void Buses_get_controllers_that_can_do_what_they_carry()
    {
        var (plan, stimulus) = CrowdedBoard.On(Kind, 2);
        Assert.Equal(["CAN3", "CAN1"], plan.Buses.Select(b => b.Settings["controller"]));
        using var board = new EmulatedBoard(plan);
        var (run, latency) = BoardCheck.Run(board, plan, stimulus, ToleranceUs);
        Assert.Equal(2, run.Output.Frames.Select(f => f.Bus).Distinct().Count());
        log.WriteLine($"{latency.Compared} frames identical on 2 buses, released at most {latency.WorstUs:0.0} us late");
    }

    [Theory]
    [InlineData("CAN1", "", "LC0911")]
    [InlineData("CAN3", "CAN3", "LC0905")]
    [InlineData("CAN3", "CAN2", "")]
    [InlineData("CAN4", "", "LC0208")]
    public void A_controller_that_cannot_is_refused(string first, string second, string code)
    {
        var (plan, _) = CrowdedBoard.On(Kind, 2);
        var loaded = plan.Modules.Select(m => m.Module).ToList();
        var settings = new Dictionary<string, IReadOnlyDictionary<string, Setting>>();
        foreach (var (bus, word) in new[] { ("b0", first), ("b1", second) }.Where(s => s.Item2.Length > 0))
            settings[bus] = new Dictionary<string, Setting> { ["controller"] = new(word, loaded[0].Buses[0].Span) };
        var bag = new DiagnosticBag();
        BoardPlanner.Plan(OtherBoards.Move(CrowdedUse(loaded), Kind) with { BusSettings = settings }, bag);
        Assert.Equal(code, string.Join(' ', bag.Sorted.Select(d => d.Code.Id).Where(c => c.StartsWith("LC", StringComparison.Ordinal)).Distinct().Take(1)));
    }

    private static BoardUse CrowdedUse(IReadOnlyList<Module> modules) =>
        CompileMatrixTests.Demo().Project!.Boards[0] with { Modules = modules };

    [Theory]
    [Sampled("board_config.h", "u, 0x8", "u, 0x9")]
    [Sampled(Registers, "#define FLEXCAN_MCR_FDEN (1u << 11)", "#define FLEXCAN_MCR_FDEN 0u")]
    [Sampled(Registers, "#define FLEXCAN_FDCTRL_FDRATE (1u << 31)", "#define FLEXCAN_FDCTRL_FDRATE 0u")]
    [Sampled(Registers, "#define FLEXCAN_CTRL2_ISOCANFDEN (1u << 12)", "#define FLEXCAN_CTRL2_ISOCANFDEN 0u")]
    [Sampled(Registers, "#define FLEXCAN_CS_BRS (1u << 30)", "#define FLEXCAN_CS_BRS (1u << 29)")]
    [Sampled(Registers, "#define FLEXCAN_CS_IDE (1u << 21)", "#define FLEXCAN_CS_IDE (1u << 22)")]
    [Sampled(Registers, "#define FLEXCAN_CS_DLC_SHIFT 16u", "#define FLEXCAN_CS_DLC_SHIFT 15u")]
    [Sampled(Registers, "#define FLEXCAN_ID_STANDARD_SHIFT 18u", "#define FLEXCAN_ID_STANDARD_SHIFT 17u")]
    [Sampled(Registers, "72u * ((box) % 7u)", "80u * ((box) % 7u)")]
    [Sampled("port/can_receive.c", "own->mask & FLEXCAN_ID_MASK", "FLEXCAN_ID_MASK")]
    [Sampled("port/imxrt_registers.h", "154u", "155u")]
    [Sampled("port/imxrt_registers.h", "#define CSCMR2_CAN_CRYSTAL (1u << 8)", "#define CSCMR2_CAN_CRYSTAL (2u << 8)")]
    [Sampled("port/imxrt_registers.h", "#define CCGR7_CAN3 (CCM_GATE(3u) | CCM_GATE(4u))", "#define CCGR7_CAN3 CCM_GATE(3u)")]
    [Sampled("port/imxrt_registers.h", "#define GPIO_EDGE_SEL(port) GPIO(port, 0x1Cu)", "#define GPIO_EDGE_SEL(port) GPIO(port, 0x0Cu)")]
    [Sampled("port/flash_header.c", "0x42464346u", "0x42464347u")]
    [Sampled("port/flash_header.c", "0x412000D1u", "0x402000D1u")]
    [Sampled("port/flash_header.c", "#define COMMAND_READ 0x03u", "#define COMMAND_READ 0x0Bu")]
    [Sampled("port/clock.c", "#define ARM_PLL_FACTOR 66u", "#define ARM_PLL_FACTOR 100u")]
    [Sampled("port/timer.c", "#define CRYSTAL_MHZ 24u", "#define CRYSTAL_MHZ 25u")]
    [Sampled("port/can.c", "static const uint8_t functions[] = {2, 0, 8};", "static const uint8_t functions[] = {2, 0, 9};")]
    [Sampled("port/can.c", "__builtin_bswap32(bytes)", "bytes")]
    public void Wrong_firmware_is_caught(string file, string right, string wrong)
    {
        var (plan, stimulus) = CrowdedBoard.On(Kind, 1);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => BoardCheck.Run(board, plan, stimulus, ToleranceUs));
    }
}
