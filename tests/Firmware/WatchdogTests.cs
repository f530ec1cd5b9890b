using Locum.Model;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The watchdogs of the emulated boards: fed while the program runs or sleeps, and biting when it hangs.</summary>
public sealed class WatchdogTests(ITestOutputHelper log)
{
    private const string Module = """
        buses: {b: {rate: 500 kbit/s}}
        modes: {first: {for: 2500 ms, then: second}, second: {}}
        frames: {F: {id: 0x120, length: 2, every: 10 ms, offset: 3 ms, fields: {mode: {bit: 0, bits: 8, value: {first: 1, second: 2}}, n: {bit: 8, bits: 8, counter: {}}}}}
        """;

    private const long HangUs = 3_000_000;
    private const string Step = "        locum_step(&core, now_us, locum_port_inputs());\n";
    private const string Hang = "        if (now_us > 3000000u) {\n            for (;;) {\n            }\n        }\n" + Step;

    private static readonly Stimulus s_quiet = new() { EndUs = 9_500_000 };

    // What the board should have done is told by the simulator, with the resets where they came and a stall before each.
    [Theory]
    [InlineData("avr-mcp2515", 200_000, 300_000)]
    [InlineData("stm32f103-bxcan", 700_000, 1_300_000)]
    [Sampled("stm32f405-bxcan", 700_000, 1_900_000)]
    [Sampled("stm32g431-fdcan", 700_000, 1_900_000)]
    [Sampled("stm32g0b1-fdcan", 700_000, 1_900_000)]
    [Sampled("stm32h743-fdcan", 700_000, 1_900_000)]
    [Sampled("stm32f105-bxcan", 700_000, 1_300_000)]
    [Sampled("sam3x8e-can", 700_000, 1_500_000)]
    [Sampled("rp2040-mcp2515", 900_000, 1_100_000)]
    [Sampled("rp2040-mcp2518fd", 900_000, 1_100_000)]
    [Sampled("imxrt1062-flexcan", 900_000, 1_100_000)]
    public void A_board_that_hangs_is_reset_and_goes_on(string kind, long soonest, long latest)
    {
        var on = GuardedBoard.Of(kind);
        var (plan, _) = on.Load(Module, "{reset: resume}", "for: 1 s");
        using var board = EmulatedBoard.Mutated(plan, "main.c", Step, Hang);
        var run = board.Run(s_quiet);
        Assert.Equal(2, run.Output.Resets.Count);
        Assert.All(run.Output.Faults, f => Assert.Contains("watchdog", f, StringComparison.Ordinal));

        var clock = run.Clock;
        var resets = new List<Reset>();
        foreach (var at in run.Output.Resets)
        {
            resets.Add(new Reset((long)Math.Round(clock.Simulated(at)), ResetCause.Watchdog));
            clock = new LifeClock(resets, Delays(run.Output.Lives, run.Output.Resets, resets.Count));
        }
        var begins = clock.Begins;
        var stalls = resets.Select((r, i) => new Stall(begins[i] + HangUs + 1, r.AtUs)).ToList();
        Assert.All(stalls, s => Assert.InRange(s.UntilUs - s.FromUs, soonest, latest));
        var expected = board.Simulate(s_quiet with { EndUs = begins[2] + 1_200_000, Resets = resets, Stalls = stalls });
        Assert.Equal(2, expected.Modes.Count(m => m.AtUs == begins[1] || m.AtUs == begins[2]));
        var seen = run.Output.Frames.Where(f => clock.Simulated(f.AcceptedUs) < expected.EndUs).ToList();
        var latency = Latency.Check(plan, expected, new EmulatedRun(run.Output with { Frames = seen, Faults = [] }, clock), on.ToleranceUs);
        Assert.True(latency.Compared > 690);
        log.WriteLine($"{kind}: reset {string.Join(" and ", stalls.Select(s => $"{(s.UntilUs - s.FromUs) / 1000} ms"))} after the program hung; {latency.Compared} frames identical");
    }

    [Theory]
    [InlineData("avr-mcp2515", "wdt_enable(WDTO_250MS);")]
    [InlineData("stm32f103-bxcan", "watchdog_start();")]
    public void Without_a_watchdog_it_would_hang_for_good(string kind, string start)
    {
        var (plan, _) = GuardedBoard.Of(kind).Load(Module, "{reset: resume}", "for: 1 s");
        using var board = EmulatedBoard.Mutated(plan, ("main.c", Step, Hang), ("port/port.c", start, ""));
        var run = board.Run(s_quiet);
        Assert.Empty(run.Output.Resets);
        Assert.DoesNotContain(run.Output.Frames, f => run.Clock.Simulated(f.AcceptedUs) > HangUs);
    }

    [Theory]
    [InlineData("avr-mcp2515", "wdt_reset();")]
    [InlineData("stm32f103-bxcan", "watchdog_feed();")]
    [Sampled("sam3x8e-can", "watchdog_feed();")]
    [Sampled("rp2040-mcp2515", "watchdog_feed();")]
    public void A_board_that_does_not_feed_it_is_reset_again_and_again(string kind, string feed)
    {
        var (plan, _) = GuardedBoard.Of(kind).Load(Module, "{foreign sender: ignore}", "for: 1 s");
        using var board = EmulatedBoard.Mutated(plan, GuardedBoard.Of(kind).Port, feed, "");
        Assert.True(board.Run(s_quiet).Output.Resets.Count > 5);
    }

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    public void A_sleeping_board_feeds_it(string kind)
    {
        const string Asleep = """
            buses: {b: {rate: 500 kbit/s}}
            inputs: {key: {active: high}}
            modes: {asleep: {sleep: yes, until: {key: active, then: awake}}, awake: {}}
            frames: {F: {id: 0x120, length: 0, every: 10 ms, in: [awake]}}
            """;
        var on = GuardedBoard.Of(kind);
        var (plan, stimulus) = on.Load(Asleep, "{}", "for: 7 s\ninputs: {key: {at: 6 s, level: active}}");
        using var board = new EmulatedBoard(plan);
        var (_, run, latency) = on.Check(board, plan, stimulus);
        Assert.Equal(100, latency.Compared);
        Assert.Empty(run.Output.Resets);
        Assert.True(run.Output.Measures["sleep_share"] > 0.98);
    }

    // The other end of the LED's language: what the program itself has to say, at another pace.
    [Fact]
    public void Without_a_crystal_the_board_flashes_six_times()
    {
        var (plan, _) = GuardedBoard.Stm32.Load(Module, "{}", "for: 1 s");
        using var board = new EmulatedBoard(plan);
        var output = board.Emulate(new Stimulus { EndUs = 4_500_000 }, "--crystal", "missing", "--watch", GuardedBoard.Stm32.Led);
        var lit = output.Pins.Where(p => !p.High).Select(p => p.AtUs).ToList();
        var pauses = lit.Zip(lit.Skip(1), (a, b) => b - a).ToList();
        Assert.Equal(6, pauses.TakeWhile(p => p < 600_000).Count() + 1);
        Assert.InRange(pauses[5], 800_000, 2_000_000);
        Assert.Empty(output.Frames);
        Assert.Empty(output.Resets);
    }

    private static List<long> Delays(IReadOnlyList<double> lives, IReadOnlyList<double> resets, int count) =>
        [.. lives.Take(count + 1).Select((zero, i) => (long)Math.Ceiling(zero) - (i is 0 ? 0 : (long)resets[i - 1]))];
}
