using Locum.Planning;
using Locum.Tests.Properties;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>Boards that are nodes of SAE J1939, on the emulated microcontrollers: the same bytes, at the simulator's times.</summary>
public sealed class NodeTests(ITestOutputHelper log)
{
    private const string Description = """
        locum: 1
        module: m
        hazard: none
        buses: {b: {rate: 250 kbit/s}}
        modes: {waking: {for: 10 ms, then: running}, running: {}}
        frames: {Status: {id: 0x18F0A480, length: 8, every: 20 ms, offset: 3 ms, in: running, on: {start: yes, after: 300 ms}, fields: {n: {bit: 0, bits: 8, counter: {}}}}}
        """;

    private const string Node = """

        j1939:
          node:
            address: 0x80
            in: running
            name: {identity: 0x12345, manufacturer: 0x123, arbitrary address: yes}
            answers:
              0xFEEB: {text: "DEPOT*LIFT-2*000417*"}
              0xFEDA: {bytes: 01 31 2A}
              0xEF00: {bytes: 01 02}
              0xF0A4: {frame: Status}
        """;

    // Without the node, what it needs of the core besides.
    private const string Listening = """

        receives:
          A: {id: 0x18EA8000, mask: 0x3FFFF00}
          B: {id: 0x18EAFF00, mask: 0x3FFFF00}
          C: {id: 0x18EEFF80, mask: 0x3FFFFFF}
          D: {id: 0x18EC8000, mask: 0x3FFFF00}
        """;

    private const string Stimulus = """
        locum: 1
        stimulus: another node
        for: 2 s
        traffic:
          b:
            - {id: 0x18EA80F9, at: 110 ms, data: DA FE 00}
            - {id: 0x18EAFFF9, at: 130 ms, data: 00 EE 00}
            - {id: 0x18EA80F9, at: 410 ms, data: DA FE 00}
            - {id: 0x18EA80F9, at: 430 ms, data: 00 EF 00}
            - {id: 0x18EA80F9, at: 451 ms, data: A4 F0 00}
            - {id: 0x18EA80F9, at: 470 ms, data: E5 FE 00}
            - {id: 0x18EAFFF9, at: 510 ms, data: EB FE 00}
            - {id: 0x18EA80F8, at: 531 ms, data: EB FE 00}
            - {id: 0x18EA80F9, at: 711 ms, data: EB FE 00}
            - {id: 0x1CEC80F9, at: 731 ms, data: 11 02 01 FF FF EB FE 00}
            - {id: 0x1CEC80F9, at: 751 ms, data: 11 00 FF FF FF EB FE 00}
            - {id: 0x1CEC80F9, at: 771 ms, data: 11 01 03 FF FF EB FE 00}
            - {id: 0x1CEC80F9, at: 791 ms, data: 13 14 00 03 FF EB FE 00}
            - {id: 0x18EEFF80, at: 811 ms, data: FF FF FF FF FF FF FF FF}
            - {id: 0x18EEFF80, at: 1011 ms, data: 00 00 00 00 00 00 00 00}
            - {id: 0x18EAFFF9, at: 1511 ms, data: 00 EE 00}
        """;

    [Theory]
    [InlineData("avr-mcp2515", "avr-", 400)]
    [InlineData("stm32f103-bxcan", "arm-none-eabi-", 60)]
    public void The_board_claims_answers_and_gives_way_as_the_simulator_does(string kind, string tools, double toleranceUs)
    {
        var (plan, stimulus) = Load(Description + Node, kind);
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var expected = board.Simulate(stimulus);
        var latency = Latency.Check(plan, expected, run, toleranceUs);
        // Claims: at the start, asked for, and against the higher NAME; two that say it has lost; the rest answers.
        Assert.Equal(3, expected.Frames.Count(f => f.Sender is "m.node" && f.Id.Value is 0x18EEFF80));
        Assert.Equal(2, expected.Frames.Count(f => f.Id.Value is 0x18EEFFFE));
        Assert.Equal(16, expected.Frames.Count(f => f.Sender is "m.node"));
        using var silent = new EmulatedBoard(Load(Description + Listening, kind).Plan);
        var (with, without) = (FirmwareSize.Of(tools, board.Elf), FirmwareSize.Of(tools, silent.Elf));
        log.WriteLine($"{kind}: {latency.Compared} frames identical, at most {latency.WorstUs:0.0} us late; a node costs {with.Flash - without.Flash} bytes of flash and {with.StaticRam - without.StaticRam} of RAM; stack {run.Output.Measures["stack_bytes"]} bytes");
        Assert.InRange(with.Flash - without.Flash, 500, 5_500);
        Assert.InRange(with.StaticRam - without.StaticRam, 40, 120);
    }

    [Theory]
    [InlineData("avr-mcp2515", "port/port.c", "return mcp2515_waits(bus, id);", "(void)bus;\n    (void)id;\n    return true;")]
    [InlineData("avr-mcp2515", "core/locum_j1939.c", "#define WAIT_US 250000u", "#define WAIT_US 270000u")]
    [InlineData("stm32f103-bxcan", "port/port.c", "return can_waits(id);", "return can_waits(id) || id != 0u;")]
    [InlineData("stm32f103-bxcan", "core/locum_j1939.c", "return own < name[i];", "return own > name[i];")]
    [InlineData("stm32f103-bxcan", "core/locum_j1939.c", "#define PACKET_BYTES 7u", "#define PACKET_BYTES 6u")]
    public void Wrong_firmware_is_caught(string kind, string file, string right, string wrong)
    {
        var (plan, stimulus) = Load(Description + Node, kind);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        var run = board.Run(stimulus);
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => Latency.Check(plan, board.Simulate(stimulus), run, 500));
    }

    private static (BoardPlan Plan, Model.Stimulus Stimulus) Load(string description, string kind)
    {
        var loaded = new GeneratedProject([description], [Stimulus]).Load();
        return (GeneratedProject.On(kind, loaded.Use)!, loaded.Stimuli[0]);
    }
}
