using Locum.Model;
using Locum.Planning;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>Outputs on the emulated boards: the pins switch when the simulator's outputs do, and have their level before they drive.</summary>
public sealed class OutputBoardTests(ITestOutputHelper log)
{
    private const string Loads = """
        buses: {b: {rate: 500 kbit/s}}
        inputs: {motor: {active: high, debounce: 2 ms}, step-line: {active: high}}
        outputs:
          at once: {active: high}
          first: {active: high, while: {motor: active}}
          second: {active: low, while: {motor: active}, after: 80 ms, for: 60 ms}
          together: {active: low, while: {step-line: active}}
        frames: {Beat: {id: 0x120, length: 1, every: 10 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}}
        """;

    // The line bounces twice before it settles, and falls too shortly to count.
    private const string Motor = """
        for: 600 ms
        inputs:
          motor: [{at: 20 ms, level: active}, {at: 20500 us, level: inactive}, {at: 21 ms, level: active}, {at: 22 ms, level: inactive}, {at: 22300 us, level: active},
            {at: 51 ms, level: inactive}, {at: 52 ms, level: active}, {at: 301 ms, level: inactive}, {at: 351100 us, level: active}, {at: 380 ms, level: inactive}]
          step-line: [{at: 401 ms, level: active}, {at: 455077 us, level: inactive}]
        """;

    // Whenever the load joins in, the supply gives way; the fourth brown-out in a row is one too many.
    private const string Inrush = """
        for: 9 s
        inputs: {motor: [{at: 1 ms, level: active}]}
        resets: [{at: 50 ms, cause: brown-out}, {at: 100 ms, cause: brown-out}, {at: 150 ms, cause: brown-out}, {at: 200 ms, cause: brown-out}]
        """;

    // Two pins of one step, by the whole microseconds that emulators print.
    private const long SkewUs = 12;

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32f105-bxcan")]
    [Sampled("stm32f446-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("stm32g0b1-fdcan")]
    [Sampled("stm32h743-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    [Sampled("rp2040-mcp2518fd")]
    [Sampled("imxrt1062-flexcan")]
    [Sampled("esp32-twai")]
    [Sampled("linux-socketcan")]
    [Sampled("own-board")]
    public void Pins_switch_as_simulated(string kind)
    {
        var board = Board(kind);
        var (plan, stimulus) = Load(board, Motor);
        using var firmware = new EmulatedBoard(plan, OwnBoardTests.Fill);
        var expected = firmware.Simulate(stimulus);
        var at = new Dictionary<string, List<double>>();
        foreach (var output in plan.Outputs)
        {
            var run = firmware.Run(stimulus, "--watch", Pins.Watched(plan, output.Output.Name));
            Latency.Check(plan, expected, run, board.ToleranceUs);
            var wanted = expected.Outputs.Where(c => c.Output == output.Index).ToList();
            var got = Pins.Switches(run, plan, output.Output.Name).ToList();
            Assert.Equal(wanted.Select(c => c.On), got.Select(c => c.On));
            foreach (var (simulated, real) in wanted.Zip(got))
                Assert.True(real.AtUs >= simulated.AtUs - 2 && real.AtUs < simulated.AtUs + board.ToleranceUs, $"{output.Output.Name} goes {simulated.On} at {simulated.AtUs} us, on the board at {real.AtUs:0} us");
            at[output.Output.Name] = [.. got.Select(c => c.AtUs)];
            if (output.Output.Name is "at once")
                log.WriteLine($"{kind}: first output {run.Output.Pins.First(p => p.High).AtUs} us after the reset");
        }
        Assert.Equal([1, 4, 2, 2], plan.Outputs.Select(o => at[o.Output.Name].Count));
    }

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("sam3x8e-can")]
    public void A_circle_of_inrush_and_brown_out_ends_and_the_led_says_so(string kind)
    {
        var board = Board(kind);
        var (plan, stimulus) = Load(board, Inrush);
        using var firmware = new EmulatedBoard(plan);
        var (expected, _, _) = board.Check(firmware, plan, stimulus);
        Assert.Equal("200000 OutputsOff", string.Join('\n', expected.Silences.Select(s => $"{s.AtUs} {s.Reason}")));
        var output = plan.Outputs.Single(o => o.Output.Name is "first");
        var got = Pins.Switches(firmware.Run(stimulus, "--watch", Pins.Watched(plan, output.Output.Name)), plan, output.Output.Name).ToList();
        // On and off by the reset, four times; then never again.
        Assert.Equal([true, false, true, false, true, false, true, false], got.Select(c => c.On));
        Assert.True(got[^1].AtUs < 210_000, $"off at {got[^1].AtUs} us");
    }

    [Theory]
    [InlineData("avr-mcp2515", "port/pins.h", "(levels & (1u << (index))) != 0u", "(levels & (1u << (index))) == 0u")]
    [InlineData("stm32f103-bxcan", "port/outputs.c", "high ? pin->bit : pin->bit + 16u", "high ? pin->bit + 16u : pin->bit")]
    [Sampled("stm32g431-fdcan", "core/locum_outputs.c", "state->turn_us += for_us;", "state->turn_us += for_us / 2u;")]
    [Sampled("sam3x8e-can", "port/outputs.c", "PIO_OER(pins[i].port)", "PIO_ODR(pins[i].port)")]
    [Sampled("stm32g0b1-fdcan", "port/port.c", "    outputs_start();", "    (void)outputs_start;")]
    public void Wrong_firmware_is_caught(string kind, string path, string right, string wrong)
    {
        var board = Board(kind);
        var (plan, stimulus) = Load(board, Motor);
        using var firmware = EmulatedBoard.Mutated(plan, path, right, wrong);
        var expected = firmware.Simulate(stimulus);
        var output = plan.Outputs.Single(o => o.Output.Name is "second");
        var got = Pins.Switches(firmware.Run(stimulus, "--watch", Pins.Watched(plan, output.Output.Name)), plan, output.Output.Name).ToList();
        var wanted = expected.Outputs.Where(c => c.Output == output.Index).ToList();
        Assert.False(wanted.Select(c => c.On).SequenceEqual(got.Select(c => c.On))
            && wanted.Zip(got).All(p => Math.Abs(p.Second.AtUs - p.First.AtUs) < board.ToleranceUs));
    }

    // Two boards on a line are in step within the slower one's time from an edge to a pin, two channels of a board within a step.
    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("sam3x8e-can")]
    public void Channels_of_a_board_switch_together(string kind)
    {
        var board = Board(kind);
        var (plan, stimulus) = Load(board, Motor.Replace("motor: [", "motor: [{at: 1 ms, level: inactive}, ", StringComparison.Ordinal), Loads
            .Replace("second: {active: low, while: {motor: active}, after: 80 ms, for: 60 ms}", "second: {active: high, while: {motor: active}}", StringComparison.Ordinal)
            .Replace("together: {active: low, while: {step-line: active}}", "together: {active: high, while: {motor: active}}", StringComparison.Ordinal));
        using var firmware = new EmulatedBoard(plan);
        var edges = plan.Outputs.Where(o => o.Output.Name is not "at once")
            .Select(o => Pins.Switches(firmware.Run(stimulus, "--watch", Pins.Watched(plan, o.Output.Name)), plan, o.Output.Name).Select(c => c.AtUs).ToList()).ToList();
        Assert.All(edges, e => Assert.Equal(4, e.Count));
        var skew = Enumerable.Range(0, 4).Max(i => edges.Max(e => e[i]) - edges.Min(e => e[i]));
        log.WriteLine($"{kind}: three pins within {skew} us");
        Assert.True(skew <= SkewUs, $"{skew} us");
    }

    private static (BoardPlan Plan, Stimulus Stimulus) Load(GuardedBoard board, string stimulus, string module = Loads) =>
        board.Load(module, "", stimulus);

    // Outputs add to what a step does (README).
    private static GuardedBoard Board(string kind)
    {
        var board = GuardedBoard.Of(kind);
        return board with { ToleranceUs = Pins.ToleranceUs(kind) };
    }
}
