using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>An ATmega328P that listens on two buses, on the emulated microcontroller: filters, buffers, waking, following.</summary>
public sealed class ListeningAvrTests(ITestOutputHelper log)
{
    private const double ToleranceUs = 300;
    private const string Receive = "port/mcp2515_receive.c";
    private const string TakeAll = "static bool take_all(locum_core *core, uint32_t now_us)\n{\n    locum_frame frame;";
    private const string SlowTakeAll = "#include <util/delay.h>\n" + TakeAll + "\n    _delay_us(3000);";
    private const string Filter0 = "0x2A, 0xA0, 0x00, 0x00, \\\n        0x2A, 0xA0, 0x00, 0x00";

    [Fact]
    public void The_follower_sends_the_simulators_frames()
    {
        var (plan, stimulus) = Seat();
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var expected = board.Simulate(stimulus);
        var latency = Latency.Check(plan, expected, run, ToleranceUs);
        Assert.True(latency.Compared > 200);
        // Both rides: asleep, awake and driving, by a received field, by a loss, and by the loss of all traffic.
        Assert.True(expected.Modes.Count >= 8);
        Assert.Equal(ListeningTests.Heard(plan, expected), run.Output.Measures["frames_heard"]);
        Assert.Equal(0, run.Output.Measures["overruns"]);
        var answers = ListeningTests.AfterReception(plan, expected, run);
        Assert.True(answers.Count > 90);
        log.WriteLine($"{latency.Compared} frames identical, released at most {latency.WorstUs:0.0} us late; {answers.Count} of them released by a reception, {answers.Min():0.0} to {answers.Max():0.0} us after its end");
        log.WriteLine($"stack {run.Output.Measures["stack_bytes"]} bytes, {FirmwareSize.Of("avr-", board.Elf)}");
    }

    [Fact]
    public void A_received_frame_costs_little_and_one_that_the_filters_stop_nothing()
    {
        var (plan, stimulus) = Seat();
        using var board = new EmulatedBoard(plan);
        var quiet = Awake(0x18FEF532, 0);
        var (heard, passing) = (Awake(0x18FEF532, 100), Awake(0x18FEF533, 100));
        Assert.Equal(quiet, passing);
        var each = (heard - quiet) / 100;
        log.WriteLine($"CPU per frame received while nothing is sent: {each:0.0} us");
        Assert.InRange(each, 50, 200);

        double Awake(uint id, int frames)
        {
            var traffic = new Traffic("comfort", new Locum.Wire.CanId(id, true), [0x15], 34_000, 20_000, 34_000 + frames * 20_000);
            var measures = board.Run(stimulus with { Traffic = [traffic] }).Output.Measures;
            Assert.Equal(id is 0x18FEF532 ? frames : 0, measures["frames_heard"]);
            return measures["awake_us"];
        }
    }

    [Theory]
    [Sampled("board_config.h", Filter0, "0x2A, 0x80, 0x00, 0x00, \\\n        0x2A, 0x80, 0x00, 0x00")]
    [Sampled("board_config.h", "0xC7, 0xEA, 0xF5, 0x32", "0xC7, 0xEA, 0xF5, 0x33")]
    [Sampled("board_config.h", "0xC7, 0xEA, 0xF5, 0x32", "0xC7, 0xE2, 0xF5, 0x32")]
    [Sampled("board_config.h", "0xF8, 0x00, 0x00, 0x00", "0xFF, 0x00, 0x00, 0x00")]
    [Sampled("port/mcp2515_start.c", "LOCUM_LISTENS ? MCP_INT_RX_ALL", "LOCUM_LISTENS ? 0x01u")]
    [Sampled("port/port.c", "wants_room || MCP2515_LINES_ARE_SHARED", "wants_room")]
    [Sampled(Receive, "return high >> 5;", "return high >> 4;")]
    [Sampled(Receive, "& 0x1FFCu", "& 0x0FFCu")]
    [Sampled("port/mcp2515_registers.h", "(0x90u | (unsigned)((buffer) << 2))", "(0x90u | (unsigned)((buffer) << 1))")]
    public void Wrong_reception_is_caught(string file, string right, string wrong)
    {
        var (plan, stimulus) = Seat();
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        var run = board.Run(stimulus);
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => Latency.Check(plan, board.Simulate(stimulus), run, ToleranceUs));
    }

    // The core drops what nobody asked for: only the count of frames and the time tell.
    [Fact]
    public void A_mask_that_is_too_wide_is_seen()
    {
        var (plan, stimulus) = Seat();
        using var board = EmulatedBoard.Mutated(plan, "board_config.h", "0xFF, 0xE0, 0x00, 0x00", "0xFF, 0xC0, 0x00, 0x00");
        var run = board.Run(stimulus);
        Assert.True(run.Output.Measures["frames_heard"] > ListeningTests.Heard(plan, board.Simulate(stimulus)));
    }

    // With the wrong bit rate a controller cannot hear either.
    [Fact]
    public void A_controller_at_another_rate_hears_nothing()
    {
        var (plan, stimulus) = Seat();
        using var board = EmulatedBoard.Mutated(plan, "board_config.h", "0x00, 0xA7, 0x01", "0x00, 0x9F, 0x01");
        var run = board.Run(stimulus);
        Assert.Contains(run.Output.Faults, f => f.Contains("bit rate", StringComparison.Ordinal));
        Assert.DoesNotContain(run.Output.Frames, f => f.Bus == "body");
    }

    // A frame every 130 us: more than the buffers hold if the board is busy for 3 ms, but not by itself.
    [Fact]
    public void An_overrun_is_counted_and_cleared()
    {
        var (plan, stimulus) = Seat();
        var flood = stimulus with { EndUs = 200_000, Traffic = [.. stimulus.Traffic.Where(t => t.Id.Value is 0x510), new Traffic("body", new Locum.Wire.CanId(0x155, false), [4, 0x12], 20_000, 110, 100_000), new Traffic("comfort", new Locum.Wire.CanId(0x18FEF532, true), [0x15], 20_000, 600, 100_000)] };
        using var slow = EmulatedBoard.Mutated(plan, "core/locum_core.c", TakeAll, SlowTakeAll);
        var late = slow.Run(flood).Output.Measures;
        Assert.True(late["overruns"] > 10);
        Assert.Equal(0, late["overrun_flags_left"]);
        using var forgetful = EmulatedBoard.Mutated(plan,
            ("core/locum_core.c", TakeAll, SlowTakeAll), (Receive, "(flags & MCP_EFLG_RXOVR) == 0u", "flags != 0xFFu"));
        Assert.Equal(2, forgetful.Run(flood).Output.Measures["overrun_flags_left"]);
        using var board = new EmulatedBoard(plan);
        Assert.Equal(0, board.Run(flood).Output.Measures["overruns"]);
    }

    // Where room is wanted the transmit buffers pull the interrupt line, too; it must not stay low and keep the board awake.
    [Fact]
    public void A_blocked_bus_leaves_time_to_sleep_and_the_other_bus_heard()
    {
        var (plan, stimulus) = Seat();
        var blocked = stimulus with { Blocked = [new Blocked("body", 503_000, 702_000)] };
        using var board = new EmulatedBoard(plan);
        var run = board.Run(blocked);
        var expected = board.Simulate(blocked);
        Assert.True(expected.Skipped[0].Sum() > 5);
        Latency.Check(plan, expected, run, ToleranceUs);
        Assert.Equal(ListeningTests.Heard(plan, expected), run.Output.Measures["frames_heard"]);
        Assert.True(run.Output.Measures["sleep_share"] > 0.95, $"asleep for {run.Output.Measures["sleep_share"]}");
        using var restless = EmulatedBoard.Mutated(plan, "port/mcp2515.c", "ask_for_room(&controllers[bus], bus, false);", "(void)bus;");
        Assert.True(restless.Run(blocked).Output.Measures["sleep_share"] < 0.9);
    }

    // Requests for frames reach the buffers like frames, of both lengths of identifier.
    [Fact]
    public void Remote_frames_are_no_receptions()
    {
        var (plan, stimulus) = Seat();
        string[] remotes = ["--remote", "0=0x500,0@950000", "--remote", "0=0x155,4@1300000", "--remote", "1=0x98FEF532,1@1910000"];
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus, remotes);
        var expected = board.Simulate(stimulus);
        Assert.Equal(ListeningTests.Heard(plan, expected) + 3, run.Output.Measures["frames_heard"]);
        Latency.Check(plan, expected, run, ToleranceUs);
        using var easy = EmulatedBoard.Mutated(plan, Receive, "return !remote;", "return true;");
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => Latency.Check(plan, expected, easy.Run(stimulus, remotes), ToleranceUs));
    }

    private static (BoardPlan Plan, Stimulus Stimulus) Seat()
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "Firmware", "listening-avr"));
        Assert.Empty(loaded.Diagnostics.Sorted);
        var plan = Assert.Single(loaded.Plans);
        return (plan, loaded.Stimuli[plan.Name]);
    }
}
