using Locum.Model;
using Locum.Planning;
using Locum.Rendering;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;
using static Locum.Tests.Firmware.DriverTrials;

namespace Locum.Tests.Firmware;

/// <summary>The skeleton for a board of one's own, its hardware filled in for the model of the TWAI driver.</summary>
public sealed class OwnBoardTests(ITestOutputHelper log)
{
    private const string Kind = "own-board";
    private const double ToleranceUs = 100;
    private const double AnsweringToleranceUs = 1_500;

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

    /// <summary>The skeleton with its hardware filled in.</summary>
    internal static OutputFile Fill(OutputFile file) =>
        file.Path is "port/hardware.c" ? file with { Text = File.ReadAllText(RepoRoot.Path("tests", "emulators", "own", "hardware.c")) } : file;

    private static EmulatedBoard FilledIn(BoardPlan plan, Func<OutputFile, OutputFile>? change = null) => new(plan, file =>
        file.Path is "port/hardware.c" || change is null ? Fill(file) : change(file));

    private static SimulationResult Check(EmulatedBoard board, BoardPlan plan, Stimulus stimulus)
    {
        var expected = board.Simulate(stimulus);
        var run = board.Run(stimulus, "--watch", GuardedBoard.Own.Led);
        Assert.True(WireOrder.Check(plan, expected, run, ToleranceUs).Compared > 150);
        Assert.True(GuardedBoard.Own.Shown(run, expected, stimulus) > 0);
        return expected;
    }
}
