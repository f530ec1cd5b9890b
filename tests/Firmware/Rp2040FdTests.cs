using Locum.Model;
using Locum.Planning;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The RP2040 with MCP2518FD-class controllers: the demo's modules, CAN FD, crowded buses, wrong firmware.</summary>
public sealed class Rp2040FdTests(ITestOutputHelper log)
{
    private const string Kind = "rp2040-mcp2518fd";
    private const string Registers = "port/mcp2518fd_registers.h";
    // Frames and their data pass the SPI one after the other.
    private const double ToleranceUs = 160;
    private const double ThreeBusesToleranceUs = 400;

    [Fact]
    public void The_telematics_board_sends_the_simulators_frames()
    {
        var (plan, stimulus) = FdCanBoardTests.Roof(Kind);
        using var board = new EmulatedBoard(plan);
        var (run, latency) = BoardCheck.Run(board, plan, stimulus, ToleranceUs);
        Assert.True(latency.Compared > 100);
        Assert.Equal(0, run.Output.Measures["overruns_counted"]);
        Assert.True(run.Output.Measures["frames_heard"] > 10);
        Assert.Contains(run.Output.Frames, f => f.Data.Length > 8);
        log.WriteLine($"{latency.Compared} frames identical, released at most {latency.WorstUs:0.0} us late, {FirmwareSize.Of("arm-none-eabi-", board.Elf)}");
        foreach (var measure in run.Output.Measures)
            log.WriteLine($"  {measure.Key} {measure.Value}");
    }

    [Theory]
    [InlineData("cab")]
    [Sampled("floor")]
    [Sampled("bogie")]
    [InlineData("rear")]
    public void Demo_modules_send_the_simulators_frames(string name)
    {
        var (plan, stimulus) = OtherBoards.Demo(name, Kind);
        using var board = new EmulatedBoard(plan);
        var latency = Latency.Check(plan, board.Simulate(stimulus), board.Run(stimulus), ToleranceUs);
        Assert.True(latency.Compared > 100);
        log.WriteLine($"{name}: {latency.Compared} frames identical, released at most {latency.WorstUs:0.0} us late, alone at most {latency.AloneUs:0.0} us");
    }

    [Theory]
    [InlineData(1, ToleranceUs)]
    [InlineData(3, ThreeBusesToleranceUs)]
    public void Every_controller_of_a_board_sends_and_listens(int buses, double tolerance)
    {
        var (plan, stimulus) = CrowdedBoard.On(Kind, buses);
        using var board = new EmulatedBoard(plan);
        var (run, latency) = BoardCheck.Run(board, plan, stimulus, tolerance);
        Assert.Equal(buses, run.Output.Frames.Select(f => f.Bus).Distinct().Count());
        Assert.Equal(0, run.Output.Measures["overruns_counted"]);
        log.WriteLine($"{latency.Compared} frames identical on {buses} buses, released at most {latency.WorstUs:0.0} us late");
    }

    [Theory]
    [Sampled("board_config.h", "0x003E0F0Fu", "0x003D0F0Fu", "bit rate")]
    [Sampled("board_config.h", "0x00020F00u", "0x00000000u", "delay compensation")]
    [Sampled("board_config.h", "0x000D0404u", "0x000C0404u", "data bit rate")]
    public void Wrong_timing_is_caught(string file, string right, string wrong, string told)
    {
        var (plan, stimulus) = FdCanBoardTests.Roof(Kind);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        var run = board.Run(stimulus);
        Assert.Contains(run.Output.Faults, f => f.Contains(told, StringComparison.Ordinal));
        Assert.DoesNotContain(run.Output.Frames, f => f.EndUs >= 0);
    }

    [Theory]
    [Sampled(Registers, "#define MCP_TXQSTA 0x054u", "#define MCP_TXQSTA 0x058u")]
    [Sampled(Registers, "#define MCP_RAM 0x400u", "#define MCP_RAM 0x404u")]
    [Sampled(Registers, "#define MCP_TXREQ 0x02u", "#define MCP_TXREQ 0x04u")]
    [Sampled(Registers, "#define MCP_UINC 0x01u", "#define MCP_UINC 0x02u")]
    [Sampled(Registers, "#define MCP_TEFSTA 0x044u", "#define MCP_TEFSTA 0x048u")]
    [Sampled(Registers, "#define MCP_FIFOSTA1 0x060u", "#define MCP_FIFOSTA1 0x064u")]
    [Sampled(Registers, "#define MCP_OBJ_EID_SHIFT 11u", "#define MCP_OBJ_EID_SHIFT 12u")]
    [Sampled(Registers, "#define MCP_OBJ_SEQ_SHIFT 9u", "#define MCP_OBJ_SEQ_SHIFT 8u")]
    [Sampled(Registers, "#define MCP_OBJ_FDF (1u << 7)", "#define MCP_OBJ_FDF (1u << 8)")]
    [Sampled(Registers, "#define MCP_OBJ_BRS (1u << 6)", "#define MCP_OBJ_BRS (1u << 8)")]
    [Sampled(Registers, "#define MCP_PLSIZE_64 (7u << 29)", "#define MCP_PLSIZE_64 (5u << 29)")]
    [Sampled(Registers, "#define MCP_FSIZE(depth) ((uint32_t)((depth)-1u) << 24)", "#define MCP_FSIZE(depth) ((uint32_t)((depth)-1u) << 23)")]
    [Sampled(Registers, "#define MCP_INT_TEFIF (1u << 4)", "#define MCP_INT_TEFIF (1u << 0)")]
    [Sampled(Registers, "#define MCP_INT_RXIF (1u << 1)", "#define MCP_INT_RXIF (1u << 2)")]
    [Sampled(Registers, "#define MCP_MODE_CLASSIC 6u", "#define MCP_MODE_CLASSIC 3u", 2)]
    [Sampled(Registers, "#define MCP_MODE_FD 0u", "#define MCP_MODE_FD 6u")]
    [Sampled("port/can.c", "link_write_byte(bus, MCP_TEFCON + 1u, MCP_UINC);", "")]
    [Sampled("port/can.c", "number == MAILBOXES || holds(state, frame->id)", "number == MAILBOXES || (holds(state, frame->id) && false)")]
    [Sampled("port/can_receive.c", "link_write_byte(bus, MCP_FIFOCON1 + 1u, MCP_UINC);", "")]
    [Sampled("port/mcp2518fd_link.c", "address >> 8", "address >> 9")]
    [Sampled("board_config.h", "#define BOARD_SPI_DIVISOR 4u", "#define BOARD_SPI_DIVISOR 3u")]
    public void Wrong_firmware_is_caught(string file, string right, string wrong, int buses = 1)
    {
        var (plan, stimulus) = CrowdedBoard.On(Kind, buses);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => BoardCheck.Run(board, plan, stimulus, ThreeBusesToleranceUs));
    }

    [Fact]
    public void Other_crystals_are_refused_and_20_mhz_slows_the_spi_down()
    {
        var loaded = CompileMatrixTests.Demo();
        var use = OtherBoards.Move(loaded.Project!.Boards.Single(b => b.Name == "cab"), Kind);
        Assert.Empty(Found(use, "20 MHz", out var plan));
        var config = Locum.Rendering.FirmwareRenderer.Render(plan!, "p", "0").Single(f => f.Path == "board_config.h").Text;
        Assert.Contains("#define BOARD_SPI_DIVISOR 8u", config, StringComparison.Ordinal);
        Assert.Contains(Found(use, "16 MHz", out _), c => c == Locum.Diagnostics.Codes.UnknownWord);
    }

    private static List<Locum.Diagnostics.Code> Found(BoardUse use, string crystal, out BoardPlan? plan)
    {
        var bag = new Locum.Diagnostics.DiagnosticBag();
        var bus = use.Modules[0].Buses[0].Name;
        plan = BoardPlanner.Plan(use with { BusSettings = new Dictionary<string, IReadOnlyDictionary<string, Setting>> { [bus] = new Dictionary<string, Setting> { ["crystal"] = new(crystal, use.Span) } } }, bag);
        return [.. bag.Sorted.Select(d => d.Code)];
    }
}
