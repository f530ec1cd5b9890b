using CsCheck;
using Locum.Parts;
using Xunit;

namespace Locum.Tests.Unit.Parts;

public sealed class DeratingTests
{
    // Film resistors rated at 70 °C, none at 155 °C: 35 % at 125 °C (a maker's tutorial on its RCM series of metal film
    // resistors); a resistor rated at 70 °C with 200 °C at most: 77 % at 100 °C, 38 % at 150 °C (a maker's glossary).
    [Theory]
    [InlineData(125, 70, 155, 35)]
    [InlineData(100, 70, 200, 77)]
    [InlineData(150, 70, 200, 38)]
    [InlineData(70, 70, 155, 100)]
    [InlineData(-40, 70, 155, 100)]
    [InlineData(155, 70, 155, 0)]
    [InlineData(200, 70, 155, 0)]
    public void Factors_are_those_of_published_examples(int ambient, int full, int zero, int percent) =>
        Assert.Equal(percent, (int)Math.Round(Derating.Factor(ambient, full, zero) * 100));

    [Fact]
    public void A_rating_carries_its_power_and_no_smaller_one_would() =>
        Gen.Select(Gen.Double[0.001, 60], Gen.Double[0, 60], Gen.Double[0.01, 1]).Check(155, 2_000, draw =>
        {
            var (power, pulse, factor) = ((decimal)draw.Item1, (decimal)draw.Item2, (decimal)draw.Item3);
            var rating = Derating.Rating(power, pulse, factor);
            bool Carries(decimal watt) => watt * factor / 2 >= power && watt * factor >= pulse;
            if (rating is { } watt)
                Assert.True(Carries(watt));
            Assert.All(Derating.Ratings.Where(r => rating is null || r < rating), smaller => Assert.False(Carries(smaller)));
        });
}
