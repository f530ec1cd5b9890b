using Locum.Parts;
using Xunit;

namespace Locum.Tests.Unit.Parts;

public sealed class BusLineTests
{
    // 120 ohm at each end, 60 together, 40 with one too many: what every guide to measuring a CAN bus says (ISO 11898-2).
    [Theory]
    [InlineData("60", true, 120, 120)]
    [InlineData("120", false, 120)]
    [InlineData("40", false, 120, 120, 120)]
    [InlineData(null, false)]
    public void Terminations_are_in_parallel(string? ohm, bool right, params int[] carried)
    {
        var total = BusLine.Parallel(carried.Select(c => (decimal)c));

        Assert.Equal(ohm, total is { } t ? Math.Round(t, 9).ToString("0.###") : null);
        Assert.Equal(right, BusLine.IsTerminated(total));
    }

    // CiA 301, 4.2.0: 50 ns and 5 ns/m make a critical length of 5 m; a stub has at most a third of it, 1.67 m.
    [Fact]
    public void Critical_length_as_in_the_example_of_CiA_301() => Assert.Equal((5.0, 1.67), (BusLine.CriticalM(50, 5), Math.Round(BusLine.CriticalM(50, 5) / 3, 2)));

    // 0.3 m at 1 Mbit/s: ISO 11898-2 as application notes of makers of transceivers quote it.
    [Theory]
    [InlineData(1_000_000, "0.3")]
    [InlineData(500_000, "0.6")]
    [InlineData(250_000, "1.2")]
    [InlineData(125_000, "1.67")]
    [InlineData(10_000, "1.67")]
    [InlineData(2_000_000, "0.15")]
    public void Stubs_shorten_with_the_bit(int rate, string metre) => Assert.Equal(decimal.Parse(metre), BusLine.StubM(rate));

    // Another published rule of thumb, a stub below tPROP / (50 tP), gives 2, 5, 10 and 20 m (a maker's table): ours stays below.
    [Theory]
    [InlineData(1_000_000, 2)]
    [InlineData(500_000, 5)]
    [InlineData(250_000, 10)]
    [InlineData(125_000, 20)]
    public void Stubs_are_on_the_safe_side_of_other_rules(int rate, int metre) => Assert.True(BusLine.StubM(rate) < metre);

    // CiA 301, from memory.
    [Theory]
    [InlineData(1_000_000, 25)]
    [InlineData(800_000, 50)]
    [InlineData(500_000, 100)]
    [InlineData(250_000, 250)]
    [InlineData(125_000, 500)]
    [InlineData(50_000, 1000)]
    [InlineData(20_000, 2500)]
    [InlineData(10_000, 5000)]
    [InlineData(333_333, 100)]
    public void Lines_are_those_of_CiA_301(int rate, int metre) => Assert.Equal(metre, BusLine.LengthM(rate));
}
