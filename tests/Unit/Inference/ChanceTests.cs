using Locum.Inference;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Against exact sums of the binomial distribution and a published table.</summary>
public sealed class ChanceTests
{
    // (1 + 10 + 45) / 2^10: at least 8 heads in 10 throws.
    [Fact]
    public void A_sum_by_hand() => Assert.Equal(Math.Log10(56.0 / 1024), Chance.Log10Tail(10, 8, 0.5), 1e-9);

    // The rule behind the word "certain": twenty values of four bits in a row, each hit with 1 in 16.
    [Fact]
    public void All_hits_multiply() => Assert.Equal(20 * Math.Log10(1.0 / 16), Chance.Log10Tail(20, 20, 1.0 / 16), 1e-9);

    // Upper tail for n = 20, p = 0.25, k = 10: 0.0139 in tables of the cumulative binomial distribution (Abramowitz and
    // Stegun, 26.5, by the incomplete beta function; the value from memory).
    [Fact]
    public void A_tabulated_value() => Assert.Equal(0.0139, Math.Pow(10, Chance.Log10Tail(20, 10, 0.25)), 1e-4);

    [Theory]
    [InlineData(50, 3, 0.1)]
    [InlineData(200, 30, 0.125)]
    [InlineData(1_000, 600, 0.5)]
    public void Larger_numbers_equal_the_plain_sum(int n, int k, double p)
    {
        double sum = 0;
        for (int i = k; i <= n; i++)
        {
            double log = (i * Math.Log(p)) + ((n - i) * Math.Log(1 - p));
            for (int j = 1; j <= i; j++)
                log += Math.Log((double)(n - i + j) / j);
            sum += Math.Exp(log);
        }
        double expected = k <= n * p ? 0 : Math.Log10(sum);
        Assert.Equal(expected, Chance.Log10Tail(n, k, p), 1e-8);
    }

    [Fact]
    public void Numbers_beyond_a_double_stay_finite() => Assert.InRange(Chance.Log10Tail(5_000_000, 5_000_000, 0.5), -1_505_150.1, -1_505_149.9);

    [Fact]
    public void Many_rules_cost_what_the_union_bound_says()
    {
        Assert.Equal(-4, Chance.OverRules(-10, 6), 1e-9);
        Assert.Equal(0, Chance.OverRules(-2, 6));
    }
}
