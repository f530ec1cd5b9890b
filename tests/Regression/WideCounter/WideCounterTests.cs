using Locum.Tests.Unit.Simulation;
using Xunit;

namespace Locum.Tests.Regression.WideCounter;

/// <summary>A formula that reads high bits of a counter in a field of more than 32 bits shifted the counter's 32-bit variable by more than its width.</summary>
public sealed class WideCounterTests
{
    // 0x80000001 >> 30 is 2; from bit 32 on there is nothing.
    [Theory]
    [InlineData("bits(n, 30, 8)", "02")]
    [InlineData("bits(n, 38, 2) + 5", "05")]
    public void The_high_bits_of_a_wide_counter_are_zero(string formula, string value) =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            frames: {A: {id: 0, length: 6, every: 1 ms, fields: {n: {bit: 0, bits: 40, counter: {from: 0x80000001, to: 0x80000002}}, v: {bit: 40, bits: 8, formula: "FORMULA"}}}}
            """.Replace("FORMULA", formula, StringComparison.Ordinal), "for: 500 us") { Frames = $"0 0x000 0100008000{value}" }.Holds();
}
