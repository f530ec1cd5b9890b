using Locum.Model;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>Wiring and supply that do not behave, on emulated boards: no wrong frame on the bus, and back to work.</summary>
public sealed class FaultTests(ITestOutputHelper log)
{
    private const string Sleeper = """
        buses: {b: {rate: 500 kbit/s}}
        inputs: {run-line: {kind: wake line, active: high, debounce: 10 ms}}
        modes: {asleep: {sleep: yes, until: {run-line: active, then: running}}, running: {until: {run-line: inactive, then: after}}, after: {for: 60 ms, then: asleep}}
        frames:
          Beat: {id: 0x120, length: 2, every: 10 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {}}, mode: {bit: 8, bits: 8, value: {running: 1, after: 2}}}}
        """;

    private const string Beat = """
        buses: {b: {rate: 125 kbit/s}}
        frames:
          Beat: {id: 0x120, length: 8, every: 10 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {}}, check: {bit: 56, bits: 8, checksum: {rule: crc8-sae-j1850, over: 0..6}}}}
        """;

    // Contacts bounce for 6 ms, a vehicle line hums for 40 ms and is never long enough one or the other.
    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32g0b1-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    public void A_wake_line_that_bounces_wakes_once_and_one_that_hums_never(string kind)
    {
        var board = GuardedBoard.Of(kind);
        var edges = Bounces(50_000, 6_000, 317, ends: true).Concat(Bounces(150_000, 5_000, 411, ends: false)).Concat(Bounces(300_000, 40_000, 4_700, ends: false));
        var (plan, stimulus) = board.Load(Sleeper, "", $"for: 600 ms\ninputs: {{run-line: [{string.Join(", ", edges.Select(e => $"{{at: {e.AtUs} us, level: {(e.Active ? "active" : "inactive")}}}"))}]}}");
        using var firmware = new EmulatedBoard(plan);
        var expected = firmware.Simulate(stimulus);
        Assert.Equal([1, 2, 0], expected.Modes.Select(m => m.Mode));
        var latency = Latency.Check(plan, expected, firmware.Run(stimulus), board.ToleranceUs);
        Assert.Equal(expected.Frames.Count, latency.Compared);
        log.WriteLine($"{kind}: {latency.Compared} frames");
    }

    // What nobody takes waits in the controller. The LED says so after a second; when the bus is free the frames go on, without a burst.
    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("rp2040-mcp2515")]
    public void Frames_that_nobody_takes_are_shown(string kind)
    {
        var on = GuardedBoard.Of(kind);
        var (plan, stimulus) = on.Load("""
            buses: {b: {rate: 500 kbit/s}}
            frames: {F: {id: 0x120, length: 1, every: 20 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}}
            """, "{foreign sender: ignore}", "for: 6 s\nblocked: {b: {from: 1001 ms, until: 4001 ms}}");
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus, "--watch", on.Led);
        Latency.Check(plan, board.Simulate(stimulus), run, on.ToleranceUs);
        var dark = run.Output.Pins.Where(p => p.High != on.LitHigh).Select(p => run.Clock.Simulated(p.AtUs)).Where(at => at > 0).ToList();
        Assert.InRange(dark.Count, 3, 20);
        Assert.All(dark, at => Assert.InRange(at, 2_000_000, 4_600_000));
    }

    // No other node: the controller repeats its first frame without end and becomes error-passive, but never bus-off by that
    // (ISO 11898-1, fault confinement, from memory). The board sleeps on, feeds its watchdog and flashes its LED.
    [Theory]
    [InlineData("stm32f103-bxcan")]
    [InlineData("stm32g431-fdcan")]
    [Sampled("stm32f405-bxcan")]
    public void A_board_alone_on_its_bus_flashes_its_led(string kind)
    {
        var on = GuardedBoard.Of(kind);
        var (plan, stimulus) = on.Load(Beat.Replace("125 kbit/s", "500 kbit/s", StringComparison.Ordinal), "{bus off: {recoveries: 1, within: 60 s, wait: 1 s}}", "for: 6 s");
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus, "--alone", "yes", "--watch", on.Led);
        Assert.Empty(run.Output.Faults);
        Assert.Empty(run.Output.Resets);
        Assert.All(run.Output.Frames, f => Assert.True(f.StartUs < 0));
        Assert.True(run.Output.Measures["sleep_share"] > 0.99);
        // About four flashes a second, as README.md of the board says.
        Assert.InRange(run.Output.Pins.Count(p => p.High != on.LitHigh), 20, 26);
    }

    // Frames of 1 ms are on the wire, half of them sent, when the supply gives way.
    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    public void A_brown_out_in_the_middle_of_a_frame_leaves_no_wrong_one(string kind)
    {
        var board = GuardedBoard.Of(kind);
        var (plan, stimulus) = board.Load(Beat, "", "for: 300 ms\nresets: [{at: 53500 us, cause: brown-out}, {at: 157 ms, cause: brown-out}]");
        using var firmware = new EmulatedBoard(plan);
        var expected = firmware.Simulate(stimulus);
        var run = firmware.Run(stimulus);
        // The simulator's controllers outlive a reset and send on, and so do a board's that are reset by its program when that starts late.
        var cut = expected.Frames.Where(f => stimulus.Resets.Any(r => f.StartUs < r.AtUs && f.EndUs > r.AtUs)).ToList();
        Assert.Equal(2, cut.Count);
        Assert.Equal(expected.Frames.Where(f => f.EndUs >= 0).Except(cut).Select(f => Convert.ToHexString(f.Data)),
            run.Output.Frames.Where(f => f.EndUs >= 0 && !run.Clock.Resets.Any(r => f.StartUs < r && f.EndUs > r)).Select(f => Convert.ToHexString(f.Data)));
        log.WriteLine($"{kind}: {run.Output.Frames.Count} frames beside the two that were on the wire");
    }

    // Level changes so far apart for so long; at the end the line has its other level, or the old one again.
    private static IEnumerable<InputChange> Bounces(long from, long lasting, long apart, bool ends)
    {
        var start = ends;
        var count = (int)(lasting / apart);
        if (count % 2 is 0)
            count++;
        for (var i = 0; i < count; i++)
            yield return new InputChange(from + (i * apart), "run-line", start ^ (i % 2 is 1));
    }
}
