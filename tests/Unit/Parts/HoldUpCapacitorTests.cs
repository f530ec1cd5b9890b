using Locum.Parts;
using Xunit;

namespace Locum.Tests.Unit.Parts;

public sealed class HoldUpCapacitorTests
{
    // Published worked examples of C = 2 P t / (V1² - V2²): 200 W, 20 ms, 400 to 300 V: 114 uF; 100 W: 57.1 uF.
    // By hand: 0.5 W, 50 ms, 12 to 6 V: 2 * 0.025 / 108 = 463 uF.
    [Theory]
    [InlineData(200, 0.02, 400, 300, 114)]
    [InlineData(100, 0.02, 400, 300, 57.1)]
    [InlineData(0.5, 0.05, 12, 6, 463)]
    public void Constant_power_as_in_published_examples(double watt, double s, double from, double to, double microfarad) =>
        Assert.Equal(microfarad, HoldUpCapacitor.ForPower(watt, s, from, to) * 1e6, microfarad / 200);

    // I t = C dV: 100 mA for 20 ms take 2 mC, which 2000 uF give within 1 V.
    [Fact]
    public void Constant_current_by_its_charge() => Assert.Equal(2e-3, HoldUpCapacitor.ForCurrent(0.1, 0.02, 9, 8), 1e-12);

    // Integrated in steps of a microsecond instead of by formula.
    [Theory]
    [InlineData(0.08, 0, 8.5, 5.5)]
    [InlineData(0, 0.4, 8.5, 5)]
    public void A_discharge_step_by_step_takes_as_long(double ampere, double watt, double from, double to)
    {
        const double Farad = 1e-3;
        var (volt, steps) = (from, 0);
        for (; volt > to; steps++)
            volt -= (ampere + (watt / volt)) * 1e-6 / Farad;

        var expected = watt > 0 ? HoldUpCapacitor.HoldsPower(Farad, watt, from, to) : HoldUpCapacitor.HoldsCurrent(Farad, ampere, from, to);
        Assert.Equal(expected, steps * 1e-6, 1e-5);
    }
}
