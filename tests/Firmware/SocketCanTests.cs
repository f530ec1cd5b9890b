using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;
using static Locum.Tests.Firmware.DriverTrials;

namespace Locum.Tests.Firmware;

/// <summary>The program for Linux computers, as it is built, on a model of the kernel's CAN sockets and GPIO lines.</summary>
public sealed class SocketCanTests(ITestOutputHelper log)
{
    private const string Kind = "linux-socketcan";
    private const double ToleranceUs = 60;
    private const double RestartUs = 1_000;
    // Consecutive frames of long answers pass on what the ones before were late.
    private const double AnsweringToleranceUs = 1_000;
    private const string Can = "port/can.c";

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
        using var emulated = new EmulatedBoard(plan);
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
    [InlineData(Ignore, BlockedOnce, "")]
    [InlineData(Run, "for: 14 s", "RunTime")]
    [InlineData(Run, Watchdog, "RunTime RunTime")]
    [InlineData(Run, "for: 14 s\nresets: {at: 4001 ms, cause: power}", "RunTime RunTime")]
    [InlineData("{reset: resume}", Watchdog, "")]
    [InlineData("{enable: {input: bench, active: low, debounce: 20 ms}}", "for: 14 s\ninputs: {bench: [{at: 4501 ms, level: active}, {at: 11001 ms, level: inactive}]}", "Disabled None Disabled")]
    public void Guards_and_resets_are_the_simulators(string guards, string stimulus, string silences)
    {
        var (plan, when) = GuardedBoard.Linux.Load(Beat, guards, stimulus);
        using var board = new EmulatedBoard(plan);
        var (expected, order) = Check(board, plan, when);
        Assert.Equal(silences, string.Join(' ', expected.Silences.Select(s => s.Reason)));
        Assert.True(order.Compared > 150);
    }

    [Theory]
    [Sampled("{}", Quiet, "board_config.h", "0x98FF1234u", "0x98FF1235u")]
    [Sampled("{}", Quiet, Can, "set_option(state->socket, CAN_RAW_RECV_OWN_MSGS, &on, sizeof on);", "")]
    [Sampled("{}", Quiet, Can, "(id & CAN_EFF_MASK) | CAN_EFF_FLAG : id & CAN_SFF_MASK;", "(id & CAN_EFF_MASK) : id & CAN_SFF_MASK;")]
    [Sampled("{}", Quiet, Can, "mailboxes_sent(&state->boxes);", "")]
    [Sampled("{}", Quiet, "port/mailboxes.c", "order_of(frame->id) < order_of(first->id)", "order_of(frame->id) > order_of(first->id)")]
    [Sampled(Ignore, BlockedOnce, "port/mailboxes.c", "if (mailboxes_hold(boxes, frame->id)) {", "if (false) {")]
    [Sampled("{}", Quiet, "port/lines.c", "#define PULL_NONE GPIO_V2_LINE_FLAG_BIAS_DISABLED", "#define PULL_NONE (1ull << 9 | 1ull << 10)")]
    [Sampled("{}", Quiet, "port/lines.c", "| GPIO_V2_LINE_FLAG_EDGE_FALLING", "| 0ull")]
    [Sampled("{}", Quiet, "port/port.c", "lines_poll(&polls[BOARD_BUS_COUNT]);", "polls[BOARD_BUS_COUNT] = polls[0];")]
    [Sampled("{}", Quiet, "port/port.c", "notify_alive(now_us);", "")]
    [Sampled("{}", Foreign, Can, "if ((flags & MSG_CONFIRM) != 0) {", "if ((flags & MSG_CONFIRM) != 0 || true) {")]
    [Sampled(Count, BusOffs, Can, "set_option(state->socket, CAN_RAW_ERR_FILTER, &errors, sizeof errors);", "(void)errors;")]
    [Sampled(Ignore, OffUnasked, Can, "mailboxes_lost(&state->boxes);\n    }", "}")]
    [Sampled(Count, BusOffs, "port/mailboxes.c", "if (boxes->handed && boxes->unwanted) {", "if (false) {")]
    [Sampled(Count, BusOffs, "port/can_restart.c", "append(&message, IFLA_CAN_RESTART,", "append(&message, IFLA_CAN_RESTART_MS,")]
    [Sampled(Count, BusOffs, "port/can_restart.c", "close_nest(&message, data);", "(void)data;")]
    [Sampled(Run, "for: 14 s", "port/port.c", "2u * silence", "4u * silence")]
    [Sampled(Run, Watchdog, "port/port.c", "kept_save();", "")]
    [Sampled(Run, Watchdog, "port/kept.c", "locum_kept_over_reset = saved;", "")]
    public void A_port_with_a_mistake_is_caught(string guards, string stimulus, string file, string right, string wrong)
    {
        var (plan, when) = GuardedBoard.Linux.Load(Beat, guards, stimulus);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => Check(board, plan, when));
    }

    [Theory]
    [InlineData("if (wanted->fd) {", "if (false) {")]
    [InlineData("out.flags = CANFD_BRS;", "")]
    [InlineData("fd ? CANFD_MTU : CAN_MTU", "fd ? CAN_MTU : CAN_MTU")]
    public void Wrong_can_fd_is_caught(string right, string wrong)
    {
        var (plan, stimulus) = OtherBoards.Demo("roof", Kind);
        using var board = EmulatedBoard.Mutated(plan, Can, right, wrong);
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
