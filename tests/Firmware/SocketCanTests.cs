using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The program for Linux computers, as it is built, on a model of the kernel's CAN sockets and GPIO lines.</summary>
public sealed class SocketCanTests(Emulators emulators, ITestOutputHelper log) : IClassFixture<Emulators>
{
    private const string Kind = "linux-socketcan";
    private const double ToleranceUs = 60;
    private const double RestartUs = 1_000;
    // Consecutive frames of long answers pass on what the ones before were late.
    private const double AnsweringToleranceUs = 1_000;
    private const string Can = "port/can.c";

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
    private const string Foreign = "for: 14 s\ntraffic: {b: [{id: 0x121, every: 10 ms, offset: 5 ms, data: 01}, {id: 0x18FF1234, at: 5104 ms, data: 00 00}]}";
    private const string Count = "{bus off: {recoveries: 2, within: 5 s, wait: 205 ms}}";
    private const string BusOffs = "for: 20 s\nbus off: {b: [1201 ms, 1601 ms, 7 s, 7600 ms, 8401 ms]}\nblocked: {b: [{from: 6982 ms, until: 7001 ms}]}";
    private const string Run = "{run at most: 1601 ms}";
    private const string OffUnasked = "for: 20 s\nbus off: {b: [1201 ms, 6995 ms]}\nblocked: {b: [{from: 6982 ms, until: 6996 ms}]}";
    private const string Blocked = "for: 9 s\nblocked: {b: [{from: 6982 ms, until: 7012 ms}]}";
    private const string Ignore = "{foreign sender: ignore}";
    private const string Watchdog = "for: 14 s\nresets: {at: 4001 ms, cause: watchdog}";

    [Theory]
    [InlineData("cab", ToleranceUs)]
    [InlineData("floor", ToleranceUs)]
    [InlineData("bogie", ToleranceUs)]
    [InlineData("side", ToleranceUs)]
    [InlineData("rear", AnsweringToleranceUs)]
    [InlineData("roof", AnsweringToleranceUs)]
    public void Demo_modules_send_the_simulators_frames(string board, double tolerance)
    {
        var (plan, stimulus) = OtherBoards.Demo(board, Kind);
        using var emulated = new EmulatedBoard(emulators, plan);
        var run = emulated.Run(stimulus);
        var order = WireOrder.Check(plan, emulated.Simulate(stimulus), run, tolerance);
        Assert.True(order.Compared > 100);
        Assert.True(run.Output.Measures["sleep_share"] > 0.9);
        log.WriteLine($"{board}: {order.Compared} frames identical, at most {order.WorstUs:0.0} us late, {order.Overtaken} behind what the kernel had already");
    }

    [Theory]
    [InlineData("{}", Quiet, "")]
    [InlineData("{}", Foreign, "ForeignSender")]
    [InlineData(Count, BusOffs, "BusOff")]
    [InlineData(Ignore, OffUnasked, "")]
    [InlineData(Ignore, Blocked, "")]
    [InlineData(Run, "for: 14 s", "RunTime")]
    [InlineData(Run, Watchdog, "RunTime RunTime")]
    [InlineData(Run, "for: 14 s\nresets: {at: 4001 ms, cause: power}", "RunTime RunTime")]
    [InlineData("{reset: resume}", Watchdog, "")]
    [InlineData("{enable: {input: bench, active: low, debounce: 20 ms}}", "for: 14 s\ninputs: {bench: [{at: 4501 ms, level: active}, {at: 11001 ms, level: inactive}]}", "Disabled None Disabled")]
    public void Guards_and_resets_are_the_simulators(string guards, string stimulus, string silences)
    {
        var (plan, when) = GuardedBoard.Linux.Load(Beat, guards, stimulus);
        using var board = new EmulatedBoard(emulators, plan);
        var (expected, order) = Check(board, plan, when);
        Assert.Equal(silences, string.Join(' ', expected.Silences.Select(s => s.Reason)));
        Assert.True(order.Compared > 150);
    }

    [Theory]
    [InlineData("{}", Quiet, "board_config.h", "0x98FF1234u", "0x98FF1235u")]
    [InlineData("{}", Quiet, Can, "set_option(state->socket, CAN_RAW_RECV_OWN_MSGS, &on, sizeof on);", "")]
    [InlineData("{}", Quiet, Can, "(id & CAN_EFF_MASK) | CAN_EFF_FLAG : id & CAN_SFF_MASK;", "(id & CAN_EFF_MASK) : id & CAN_SFF_MASK;")]
    [InlineData("{}", Quiet, Can, "mailboxes_sent(&state->boxes);", "")]
    [InlineData("{}", Quiet, "port/mailboxes.c", "order_of(frame->id) < order_of(first->id)", "order_of(frame->id) > order_of(first->id)")]
    [InlineData(Ignore, Blocked, "port/mailboxes.c", "if (mailboxes_hold(boxes, frame->id)) {", "if (false) {")]
    [InlineData("{}", Quiet, "port/lines.c", "#define PULL_NONE GPIO_V2_LINE_FLAG_BIAS_DISABLED", "#define PULL_NONE (1ull << 9 | 1ull << 10)")]
    [InlineData("{}", Quiet, "port/lines.c", "| GPIO_V2_LINE_FLAG_EDGE_FALLING", "| 0ull")]
    [InlineData("{}", Quiet, "port/port.c", "lines_poll(&polls[BOARD_BUS_COUNT]);", "polls[BOARD_BUS_COUNT] = polls[0];")]
    [InlineData("{}", Quiet, "port/port.c", "notify_alive(now_us);", "")]
    [InlineData("{}", Foreign, Can, "if ((flags & MSG_CONFIRM) != 0) {", "if ((flags & MSG_CONFIRM) != 0 || true) {")]
    [InlineData(Count, BusOffs, Can, "set_option(state->socket, CAN_RAW_ERR_FILTER, &errors, sizeof errors);", "(void)errors;")]
    [InlineData(Ignore, OffUnasked, Can, "mailboxes_lost(&state->boxes);\n    }", "}")]
    [InlineData(Count, BusOffs, "port/mailboxes.c", "if (boxes->handed && boxes->unwanted) {", "if (false) {")]
    [InlineData(Count, BusOffs, "port/can_restart.c", "append(&message, IFLA_CAN_RESTART,", "append(&message, IFLA_CAN_RESTART_MS,")]
    [InlineData(Count, BusOffs, "port/can_restart.c", "close_nest(&message, data);", "(void)data;")]
    [InlineData(Run, "for: 14 s", "port/port.c", "2u * silence", "4u * silence")]
    [InlineData(Run, Watchdog, "port/port.c", "kept_save();", "")]
    [InlineData(Run, Watchdog, "port/kept.c", "locum_kept_over_reset = saved;", "")]
    public void A_port_with_a_mistake_is_caught(string guards, string stimulus, string file, string right, string wrong)
    {
        var (plan, when) = GuardedBoard.Linux.Load(Beat, guards, stimulus);
        using var board = EmulatedBoard.Mutated(emulators, plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => Check(board, plan, when));
    }

    [Theory]
    [InlineData("if (wanted->fd) {", "if (false) {")]
    [InlineData("out.flags = CANFD_BRS;", "")]
    [InlineData("fd ? CANFD_MTU : CAN_MTU", "fd ? CAN_MTU : CAN_MTU")]
    public void Wrong_can_fd_is_caught(string right, string wrong)
    {
        var (plan, stimulus) = OtherBoards.Demo("roof", Kind);
        using var board = EmulatedBoard.Mutated(emulators, plan, Can, right, wrong);
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => WireOrder.Check(plan, board.Simulate(stimulus), board.Run(stimulus), AnsweringToleranceUs));
    }

    private static (SimulationResult Expected, WireOrder Order) Check(EmulatedBoard board, BoardPlan plan, Stimulus stimulus)
    {
        var expected = board.Simulate(stimulus);
        var run = board.Run(stimulus, "--watch", GuardedBoard.Linux.Led, "--watchdog", "2000000");
        // A restart by the kernel itself comes a millisecond late.
        var order = WireOrder.Check(plan, expected, run, ToleranceUs + (stimulus.BusOffs.Count > 0 ? RestartUs : 0));
        Assert.True(GuardedBoard.Linux.Shown(run, expected, stimulus) > 0);
        return (expected, order);
    }
}
