using Xunit;

namespace Locum.Tests.Unit.Planning;

/// <summary>Rates by hand: rate = clock / (prescaler × quanta); the controller of an MCP2515 divides half its crystal.</summary>
public class BusTimingTests
{
    [Theory]
    // 8 MHz / (1 × 16) and 36 MHz / (4 × 18).
    [InlineData("board: avr-mcp2515", "500 kbit/s", "")]
    [InlineData("board: stm32f103-bxcan", "500 kbit/s", "")]
    // 4 MHz / 1 Mbit/s leaves 4 quanta; 8 are the fewest allowed.
    [InlineData("board: avr-mcp2515, buses: {body: {crystal: 8 MHz}}", "1 Mbit/s", "LC0904")]
    // 95.238 kbit/s is 8 MHz / 84, off by 2 ppm.
    [InlineData("board: avr-mcp2515", "95.238 kbit/s", "")]
    // 8 MHz / 910 kbit/s = 8.79: neither 8 nor 9 quanta come within 0.1 %.
    [InlineData("board: avr-mcp2515", "910 kbit/s", "LC0904")]
    // 8 quanta with at least 2 after the sample point: 75 %.
    [InlineData("board: avr-mcp2515", "1 Mbit/s, sample point: 87.5 %", "LC0910")]
    [InlineData("board: avr-mcp2515", "1 Mbit/s, sample point: 75 %", "")]
    // The PC has no controller.
    [InlineData("board: pc", "910 kbit/s", "")]
    public void A_rate_must_come_from_the_clock(string keys, string rate, string codes)
    {
        var (plan, found) = Boards.Plan(keys, Boards.Module("one", $"body: {{rate: {rate}}}", "A: {id: 1, length: 0, every: 1 s}"));

        Assert.Equal(codes, Descriptions.Ids(found));
        Assert.Equal(codes is "LC0904" || keys is "board: pc", plan!.Buses[0].Timing is null);
    }

    // By hand, 16 quanta with SJW 1: 1 / (20 · 16) = 3125 ppm; with 95 238 bit/s the rate is 2 ppm off: 21 quanta, SJW 1.
    [Theory]
    [InlineData("3125 ppm", "500 kbit/s", "")]
    [InlineData("3126 ppm", "500 kbit/s", "LC0930")]
    [InlineData("0.5 %", "500 kbit/s", "LC0930")]
    [InlineData("2000 ppm", "95.238 kbit/s", "")]
    [InlineData("loose", "500 kbit/s", "LC0206")]
    [InlineData("11 %", "500 kbit/s", "LC0206")]
    public void The_oscillator_must_be_good_enough(string tolerance, string rate, string codes)
    {
        var (_, found) = Boards.Plan($"board: avr-mcp2515, buses: {{body: {{tolerance: {tolerance}}}}}", Boards.Module("one", $"body: {{rate: {rate}}}", "A: {id: 1, length: 0, every: 1 s}"));

        Assert.Equal(codes, Descriptions.Ids(found));
    }
}
