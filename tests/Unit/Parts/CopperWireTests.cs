using Locum.Parts;
using Xunit;

namespace Locum.Tests.Unit.Parts;

public sealed class CopperWireTests
{
    // IEC 60228, class 5, plain, ohm/km at 20 °C, as makers of cables repeat the table.
    [Theory]
    [InlineData("0.5", "39.0")]
    [InlineData("0.75", "26.0")]
    [InlineData("1", "19.5")]
    [InlineData("1.5", "13.3")]
    [InlineData("2.5", "7.98")]
    [InlineData("4", "4.95")]
    [InlineData("6", "3.30")]
    [InlineData("10", "1.91")]
    [InlineData("16", "1.21")]
    [InlineData("25", "0.780")]
    [InlineData("35", "0.554")]
    public void Resistances_are_those_of_the_table(string mm2, string ohmPerKm) =>
        Assert.Equal(decimal.Parse(ohmPerKm), CopperWire.OhmPerM(decimal.Parse(mm2), 20) * 1000, 6);

    // Correction factors to 20 °C of IEC 60228: 1.064 at 5 °C, 0.893 at 50 °C, 0.806 at 80 °C (with 0.004 per kelvin).
    [Theory]
    [InlineData(5, 1.064)]
    [InlineData(50, 0.893)]
    [InlineData(80, 0.806)]
    public void Warm_copper_has_more(int celsius, double factor) =>
        Assert.Equal((double)CopperWire.OhmPerM(1, 20), (double)CopperWire.OhmPerM(1, celsius) * factor, 1e-4);

    // Solid copper of 0.017241 ohm mm²/m (IACS, IEC 60028): strands are thinner than the section says, by less than a fifth.
    [Fact]
    public void Every_section_has_a_little_more_than_solid_copper()
    {
        for (var mm2 = 0.1m; mm2 <= 50; mm2 += 0.1m)
            Assert.InRange(CopperWire.OhmPerM(mm2, 20) * mm2, 0.017241m, 0.017241m * 1.2m);
    }

    // AWG 18 is 0.823 mm² (0.127 mm * 92^((36 - 18)/39)); solid it has 20.95 mohm/m (published wire tables).
    [Fact]
    public void A_section_between_those_of_the_table_follows_its_copper()
    {
        var mm = 0.127 * Math.Pow(92, (36 - 18) / 39.0);
        var mm2 = (decimal)(Math.PI / 4 * mm * mm);

        Assert.Equal(0.823, (double)mm2, 0.001);
        Assert.InRange(CopperWire.OhmPerM(mm2, 20) * 1000, 20.95m, 20.95m * 1.15m);
    }

    [Fact]
    public void Thicker_wires_have_less_and_carry_more()
    {
        var sections = Enumerable.Range(1, 400).Select(i => i * 0.05m).ToList();
        Assert.All(sections.Zip(sections.Skip(1)), p => Assert.True(CopperWire.OhmPerM(p.Second, 20) < CopperWire.OhmPerM(p.First, 20) * 1.02m));
        Assert.All(sections.Zip(sections.Skip(1)), p => Assert.True((CopperWire.LargestFuse(p.Second) ?? 0) >= (CopperWire.LargestFuse(p.First) ?? 0)));
        Assert.Null(CopperWire.LargestFuse(0.2m));
    }

    // 75 % of the rating at 25 °C: makers' guides to fuses.
    [Theory]
    [InlineData("0.75", "1")]
    [InlineData("0.76", "2")]
    [InlineData("5.6", "7.5")]
    [InlineData("30", "40")]
    [InlineData("30.1", null)]
    public void A_fuse_carries_three_quarters_of_its_rating(string ampere, string? fuse) =>
        Assert.Equal(fuse, Fuse.For(decimal.Parse(ampere))?.ToString());
}
