using Locum.Planning;
using Locum.Tests.Properties;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>Boards that answer a tester, on the emulated microcontrollers: the same bytes, at the simulator's times.</summary>
public sealed class AnsweringTests(ITestOutputHelper log)
{
    private const string Description = """
        locum: 1
        module: m
        hazard: none
        buses: {b: {rate: 500 kbit/s}}
        frames: {Status: {id: 0x2D1, length: 8, every: 20 ms, offset: 3 ms}}
        """;

    private const string Channel = """

        diagnostics:
          t:
            request: 0x7E0
            functional: 0x7DF
            response: 0x7E8
            padding: 0xCC
            answer after: 2 ms
            sessions: [default, extended]
            memory: empty
            identifiers: {0xF190: {text: DEPOT0000000LOCO1}, 0xF187: {bytes: 01 02 03 04}}
        """;

    private const string Stimulus = """
        locum: 1
        stimulus: a tester
        for: 2 s
        traffic:
          b:
            - {id: 0x7E0, at: 110 ms, data: 02 10 03}
            - {id: 0x7E0, at: 130 ms, data: 03 22 F1 90}
            - {id: 0x7E0, at: 150 ms, data: 30 00 0A}
            - {id: 0x7E0, at: 190 ms, data: 10 0B 22 F1 87 00 00 00}
            - {id: 0x7E0, at: 211 ms, data: 21 00 00 00 F1 90}
            - {id: 0x7E0, at: 230 ms, data: 30 01 00}
            - {id: 0x7E0, at: 250 ms, data: 30 00 00}
            - {id: 0x7DF, at: 290 ms, data: 02 3E 80}
            - {id: 0x7DF, at: 310 ms, data: 02 3E 00}
            - {id: 0x7E0, at: 330 ms, data: 03 22 F1 90}
            - {id: 0x7E0, at: 1410 ms, data: 30 00 0A}
            - {id: 0x7E0, at: 1430 ms, data: 02 85 01}
        """;

    [Theory]
    [InlineData("avr-mcp2515", "avr-", 300)]
    [InlineData("stm32f103-bxcan", "arm-none-eabi-", 40)]
    public void The_board_answers_as_the_simulator_does(string kind, string tools, double toleranceUs)
    {
        var (plan, stimulus) = Load(Description + Channel, kind);
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var expected = board.Simulate(stimulus);
        var latency = Latency.Check(plan, expected, run, toleranceUs);
        var answers = expected.Frames.Count(f => f.Sender is "m.t");
        Assert.Equal(12, answers);
        using var silent = new EmulatedBoard(Load(Description + "\nreceives: {Any: {id: 0x7E0}, All: {id: 0x7DF}}", kind).Plan);
        var (with, without) = (FirmwareSize.Of(tools, board.Elf), FirmwareSize.Of(tools, silent.Elf));
        log.WriteLine($"{kind}: {answers} answers, at most {latency.WorstUs:0.0} us late; answering costs {with.Flash - without.Flash} bytes of flash and {with.StaticRam - without.StaticRam} of RAM");
        Assert.InRange(with.Flash - without.Flash, 500, 5_500);
        Assert.InRange(with.StaticRam - without.StaticRam, 64, 260);
    }

    // The next consecutive frame, and the wait for a flow control, count from the leaving of the frame before.
    [Theory]
    [InlineData("avr-mcp2515", "port/port.c", "return mcp2515_waits(bus, id);", "(void)bus;\n    (void)id;\n    return true;")]
    [InlineData("avr-mcp2515", "port/mcp2515.c", "state->orders[i] == order) {\n            return true;", "state->orders[i] == order + 1u) {\n            return true;")]
    [InlineData("stm32f103-bxcan", "port/can.c", "CAN_TSR_TME(mailbox)) == 0u &&", "CAN_TSR_TME(mailbox)) != 0u &&")]
    [InlineData("stm32f103-bxcan", "port/port.c", "return can_waits(id);", "return can_waits(id) || id != 0u;")]
    public void A_port_that_is_wrong_about_leaving_is_caught(string kind, string file, string right, string wrong)
    {
        var (plan, stimulus) = Load(Description + Channel, kind);
        using var board = new EmulatedBoard(plan, f =>
        {
            if (f.Path != file)
                return f;
            Assert.Contains(right, f.Text, StringComparison.Ordinal);
            return f with { Text = f.Text.Replace(right, wrong, StringComparison.Ordinal) };
        });
        var run = board.Run(stimulus);
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => Latency.Check(plan, board.Simulate(stimulus), run, 100));
    }

    private static (BoardPlan Plan, Model.Stimulus Stimulus) Load(string description, string kind)
    {
        var loaded = new GeneratedProject([description], [Stimulus]).Load();
        return (GeneratedProject.On(kind, loaded.Use)!, loaded.Stimuli[0]);
    }
}
