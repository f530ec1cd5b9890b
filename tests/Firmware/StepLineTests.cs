using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>
/// Two emulated boards on a line: what the first one's pin does on the line is what the second one's input and its own see.
/// Both switch a stage of a load, and do so in step.
/// </summary>
public sealed class StepLineTests(ITestOutputHelper log)
{
    private const string Load = "load: {active: high, while: {step-line: active}, after: 80 ms, for: 60 ms}";
    private const string Beat = "frames: {Beat: {id: 0x120, length: 1, every: 10 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}}\n";

    private const string Leader = "buses: {b: {rate: 500 kbit/s}}\ninputs: {motor: {active: high, debounce: 2 ms}, step-line: {active: high}}\n"
        + "outputs: {step-line: {active: high, while: {motor: active}}, " + Load + "}\n" + Beat;

    private static readonly string s_follower = "buses: {b: {rate: 500 kbit/s}}\ninputs: {step-line: {active: high}}\noutputs: {" + Load + "}\n" + Beat.Replace("0x120", "0x121", StringComparison.Ordinal);

    private const string Motor = "for: 600 ms\ninputs: {motor: [{at: 21 ms, level: active}, {at: 22 ms, level: inactive}, {at: 23 ms, level: active}, {at: 301 ms, level: inactive}, {at: 351100 us, level: active}]}";

    [Theory]
    [Sampled("avr-mcp2515", "avr-mcp2515")]
    [InlineData("avr-mcp2515", "stm32g431-fdcan")]
    [InlineData("stm32f103-bxcan", "avr-mcp2515")]
    [Sampled("sam3x8e-can", "rp2040-mcp2515")]
    public void Two_boards_switch_in_step(string first, string second)
    {
        var (leader, stimulus) = GuardedBoard.Of(first).Load(Leader, "", Motor);
        var (follower, _) = GuardedBoard.Of(second).Load(s_follower, "", "for: 600 ms");
        var simulated = Simulator.Run([leader with { Name = "leader" }, follower with { Name = "follower" }], stimulus);
        using var leads = new EmulatedBoard(leader);
        using var follows = new EmulatedBoard(follower);

        var line = Pins.Switches(leads.Run(stimulus, "--watch", Pins.Watched(leader, "step-line")), leader, "step-line").ToList();
        Assert.Equal([true, false, true], line.Select(c => c.On));
        var onLine = stimulus with { Inputs = [.. stimulus.Inputs.Concat(line.Select(c => new InputChange((long)c.AtUs, "step-line", c.On))).OrderBy(c => c.AtUs)] };
        var own = Pins.Switches(leads.Run(onLine, "--watch", Pins.Watched(leader, "load")), leader, "load").ToList();
        var other = Pins.Switches(follows.Run(onLine with { Inputs = [.. onLine.Inputs.Where(i => i.Input is "step-line")] }, "--watch", Pins.Watched(follower, "load")), follower, "load").ToList();

        foreach (var (board, load) in new[] { own, other }.Index())
            Assert.Equal(simulated.Outputs.Where(o => o.Board == board && (board is 1 || o.Output == Pins.Of(leader, "load").Index)).Select(o => o.On), load.Select(c => c.On));
        Assert.Equal([true, false, true, false], own.Select(c => c.On));
        var skew = own.Zip(other, (a, b) => Math.Abs(a.AtUs - b.AtUs)).Max();
        log.WriteLine($"{first} and {second}: loads within {skew:0} us");
        Assert.True(skew <= Math.Max(Pins.ToleranceUs(first), Pins.ToleranceUs(second)), $"{skew} us");
    }
}
