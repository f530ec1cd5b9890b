using Locum.Tests.Properties;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>A parked vehicle: the board sleeps for days, is woken now and then, and its clock of 32 bits wraps every 71.6 minutes. 60 days in a long run.</summary>
public sealed class DaysTests(ITestOutputHelper log)
{
    private const long HourUs = 3_600_000_000;
    private static readonly int s_hours = Cases.Long ? 60 * 24 : 3;

    private const string Parked = """
        buses: {b: {rate: 125 kbit/s}}
        inputs: {key: {kind: wake line, active: high, debounce: 20 ms}}
        modes: {parked: {until: {key: active, then: awake}}, awake: {until: {key: inactive, then: parked}}}
        frames:
          Slow: {id: 0x300, length: 2, every: 17 min, offset: 1 s, in: [parked], fields: {n: {bit: 0, bits: 16, counter: {}}}}
          Quick: {id: 0x120, length: 1, every: 50 ms, in: [awake], fields: {n: {bit: 0, bits: 8, counter: {}}}}
        """;

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    public void Frames_are_the_simulators_over_days_of_rest(string kind)
    {
        // Every 75 minutes for 5 s, so that the clock wraps at another place each time.
        var edges = Enumerable.Range(0, s_hours * 4 / 5).Select(i => i * (HourUs * 5 / 4) + 700_000_000)
            .SelectMany(at => new[] { $"{{at: {at} us, level: active}}", $"{{at: {at + 5_000_000} us, level: inactive}}" });
        var board = GuardedBoard.Of(kind);
        var (plan, stimulus) = board.Load(Parked, "", $"for: {s_hours} h\ninputs: {{key: [{string.Join(", ", edges)}]}}");
        using var firmware = new EmulatedBoard(plan);
        var run = firmware.Run(stimulus);
        var latency = Latency.Check(plan, firmware.Simulate(stimulus), run, board.ToleranceUs);
        Assert.True(latency.Compared >= s_hours * 60, $"{latency.Compared} frames");
        log.WriteLine($"{kind}: {s_hours} hours, {latency.Compared} frames, the worst {latency.WorstUs:0} us late");
    }
}
