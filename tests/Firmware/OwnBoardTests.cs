using Locum.Model;
using Locum.Planning;
using Locum.Rendering;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The skeleton for a board of one's own, its hardware filled in for the model of the TWAI driver.</summary>
public sealed class OwnBoardTests(Emulators emulators, ITestOutputHelper log) : IClassFixture<Emulators>
{
    private const string Kind = "own-board";
    private const double ToleranceUs = 100;
    private const double AnsweringToleranceUs = 1_500;

    private const string Beat = """
        buses: {b: {rate: 500 kbit/s}}
        inputs: {key: {active: high}}
        modes: {first: {for: 2500 ms, then: second}, second: {until: {key: active, then: third}}, third: {}}
        frames:
          Fast:
            id: 0x120
            length: 4
            every: 10 ms
            offset: 3 ms
            fields:
              mode: {bit: 0, bits: 8, value: {first: 1, second: 2, third: 3}}
              sent: {bit: 8, bits: 8, counter: {}}
              slots: {bit: 16, bits: 8, counter: {advance: slot}}
          Slow: {id: 0x18FF1234, length: 8, every: 100 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}
          Middle: {id: 0x130, length: 8, every: 100 ms, offset: 3 ms, base: 01 02 03 04 05 06 07 08}
          Third: {id: 0x125, length: 0, every: 50 ms, in: [third]}
        """;

    private const string Quiet = "for: 9 s\ninputs: {key: {at: 4128 ms, level: active}}";
    private const string Count = "{bus off: {recoveries: 2, within: 5 s, wait: 205 ms}}";
    private const string BusOffs = "for: 20 s\nbus off: {b: [1201 ms, 1601 ms, 7 s, 7600 ms, 8401 ms]}\nblocked: {b: [{from: 6982 ms, until: 7001 ms}]}";
    private const string OffUnasked = "for: 20 s\nbus off: {b: [1201 ms, 6995 ms]}\nblocked: {b: [{from: 6982 ms, until: 6996 ms}]}";
    private const string Ignore = "{foreign sender: ignore}";
    private const string Run = "{run at most: 1601 ms}";
    private const string Watchdog = "for: 14 s\nresets: {at: 4001 ms, cause: watchdog}";

    [Theory]
    [InlineData("cab", ToleranceUs)]
    [InlineData("bogie", ToleranceUs)]
    [InlineData("rear", AnsweringToleranceUs)]
    public void Demo_modules_send_the_simulators_frames(string name, double tolerance)
    {
        var (plan, stimulus) = OtherBoards.Demo(name, Kind);
        using var board = FilledIn(plan);
        var run = board.Run(stimulus);
        var order = WireOrder.Check(plan, board.Simulate(stimulus), run, tolerance);
        Assert.True(order.Compared > 100);
        log.WriteLine($"{name}: {order.Compared} frames identical, at most {order.WorstUs:0.0} us late");
    }

    [Theory]
    [InlineData("{}", Quiet, "")]
    [InlineData(Count, BusOffs, "BusOff")]
    [InlineData(Ignore, OffUnasked, "")]
    [InlineData(Run, Watchdog, "RunTime RunTime")]
    public void Guards_and_resets_are_the_simulators(string guards, string stimulus, string silences)
    {
        var (plan, when) = GuardedBoard.Own.Load(Beat, guards, stimulus);
        using var board = FilledIn(plan);
        var expected = Check(board, plan, when);
        Assert.Equal(silences, string.Join(' ', expected.Silences.Select(s => s.Reason)));
    }

    [Theory]
    [InlineData("{}", Quiet, "port/port.c", "mailboxes_sent(&state->boxes);", "")]
    [InlineData("{}", Quiet, "port/port.c", "hardware_feed_watchdog();", "")]
    [InlineData("{}", Quiet, "board_config.h", "500000u", "250000u")]
    [InlineData(Count, BusOffs, "port/port.c", "    mailboxes_lost(&states[bus].boxes);\n    hardware_can_restart(bus);", "    mailboxes_lost(&states[bus].boxes);")]
    [InlineData(Ignore, OffUnasked, "port/port.c", "        mailboxes_lost(&state->boxes);\n        hardware_can_restart(bus);", "        hardware_can_restart(bus);")]
    [InlineData(Run, "for: 14 s", "port/port.c", "2u * silence", "4u * silence")]
    public void A_port_with_a_mistake_is_caught(string guards, string stimulus, string file, string right, string wrong)
    {
        var (plan, when) = GuardedBoard.Own.Load(Beat, guards, stimulus);
        var found = false;
        using var board = FilledIn(plan, text =>
        {
            if (text.Path != file || !text.Text.Contains(right, StringComparison.Ordinal))
                return text;
            found = true;
            return text with { Text = text.Text.Replace(right, wrong, StringComparison.Ordinal) };
        });
        Assert.True(found);
        Assert.ThrowsAny<Exception>(() => Check(board, plan, when));
    }

    private EmulatedBoard FilledIn(BoardPlan plan, Func<OutputFile, OutputFile>? change = null) => new(emulators, plan, file =>
        file.Path is "port/hardware.c" ? file with { Text = File.ReadAllText(RepoRoot.Path("tests", "emulators", "own", "hardware.c")) } : change is null ? file : change(file));

    private static SimulationResult Check(EmulatedBoard board, BoardPlan plan, Stimulus stimulus)
    {
        var expected = board.Simulate(stimulus);
        var run = board.Run(stimulus, "--watch", GuardedBoard.Own.Led);
        Assert.True(WireOrder.Check(plan, expected, run, ToleranceUs).Compared > 150);
        Assert.True(GuardedBoard.Own.Shown(run, expected, stimulus) > 0);
        return expected;
    }
}
