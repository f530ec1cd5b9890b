using Locum.Inference;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Worked values of Poisson's distribution, from general mathematics.</summary>
public sealed class ZeroCountTests
{
    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 0.36787944117144233)] // 1/e
    [InlineData(2.302585092994046, 0.1)] // ln 10
    [InlineData(5, 0.006737946999085467)]
    public void The_chance_of_no_event_is_e_to_the_minus_expected(double expected, double chance) =>
        Assert.Equal(chance, Math.Pow(10, ZeroCount.Log10Chance(expected)), 12);

    // Three events, and then as long a time without: each had the same chance to fall into either half.
    [Fact]
    public void All_of_a_few_events_in_one_half_is_a_matter_of_coins() =>
        Assert.Equal(0.125, Math.Pow(10, ZeroCount.Log10Chance(3, 10, 10)), 12);

    // (1 - x/n)^n goes to e^-x: 100 000 events in 100 000 s, 5 s without.
    [Fact]
    public void With_many_events_both_agree() =>
        Assert.Equal(ZeroCount.Log10Chance(5.0), ZeroCount.Log10Chance(100_000, 100_000, 5), 3);

    // A simulation with a fixed seed instead of a formula: events at random, the share of runs with none in the second half.
    [Fact]
    public void Random_events_agree_with_the_formula()
    {
        var random = new Random(11);
        const int runs = 200_000;
        var none = Enumerable.Range(0, runs).Count(_ => Enumerable.Range(0, 4).All(_ => random.NextDouble() * 15 < 10));
        Assert.Equal(Math.Pow(10, ZeroCount.Log10Chance(4, 10, 5)), (double)none / runs, 2);
    }
}
