using CsCheck;
using Locum.Parts;
using Xunit;

namespace Locum.Tests.Unit.Parts;

public sealed class ResistorPickTests
{
    private static readonly decimal[] s_tolerances = [0.1m, 0.5m, 1, 2, 5, 10];

    [Theory]
    [InlineData("2", "3.2", "1", 24, "2.7", null, false)] // 2.6 is the middle, 2.7 the nearest of E24
    [InlineData("118", "122", "1", 24, "120", null, false)]
    [InlineData("2.9", "3.1", "0.5", 12, "1.5", "1.5", false)] // between 2.7 and 3.3 there is no value of E12
    [InlineData("58.5", "61.5", "2", 6, "100", "150", true)] // 60 ohm of E6 in parallel
    public void A_value_is_preferred_to_a_pair(string low, string high, string tolerance, int series, string first, string? second, bool parallel)
    {
        var pick = ResistorPick.Of(decimal.Parse(low), decimal.Parse(high), decimal.Parse(tolerance), series)!;

        Assert.Equal((decimal.Parse(first), second is null ? null : decimal.Parse(second), parallel), (pick.FirstOhm, pick.SecondOhm, pick.Parallel));
    }

    [Fact]
    public void A_window_narrower_than_the_tolerance_has_no_pick() => Assert.Null(ResistorPick.Of(99.5m, 100.5m, 1, 192));

    [Fact]
    public void Powers_share_as_the_voltages_in_series_and_as_the_currents_in_parallel()
    {
        // 100 + 50 ohm at 3 V: 20 mA; 40 of 60 mW. 100 || 50 ohm at 1 V: 10 of 30 mW.
        Assert.Equal(2m / 3, new ResistorPick(100, 50, false).FirstShare);
        Assert.Equal(1m / 3, new ResistorPick(100, 50, true).FirstShare, 20);
        Assert.Equal(1, new ResistorPick(100, null, false).FirstShare);
    }

    [Fact]
    public void A_pick_is_of_the_series_and_stays_in_the_window_with_its_tolerance()
    {
        var (singles, pairs) = (0, 0);
        Gen.Select(Gen.Int[-1, 6], Gen.Double[1, 10], Gen.Double[0.005, 0.5], Gen.Int[0, 5], Gen.Int[0, 5]).Check(26, 1_000, draw =>
        {
            var (exponent, digits, width, percent, index) = draw;
            var tolerance = s_tolerances[percent];
            var low = (decimal)(digits * Math.Pow(10, exponent));
            var high = low * (1 + (decimal)width);
            var series = ESeries.Known[index];
            if (ResistorPick.Of(low, high, tolerance, series) is not { } pick)
            {
                Assert.DoesNotContain(ESeries.Between(series, low, high), v => v * (1 - (tolerance / 100)) >= low && v * (1 + (tolerance / 100)) <= high);
                return;
            }
            if (pick.SecondOhm is null)
                singles++;
            else
                pairs++;
            Assert.All(new[] { pick.FirstOhm, pick.SecondOhm ?? pick.FirstOhm }, v => Assert.Contains(v, ESeries.Between(series, v / 2, v * 2)));
            // The worst of both parts at one end of their tolerance: in series and in parallel they move together.
            Assert.InRange(pick.Ohm * (1 - (tolerance / 100)), low * 0.9999999m, high);
            Assert.InRange(pick.Ohm * (1 + (tolerance / 100)), low, high * 1.0000001m);
        });
        Assert.True(singles > 200 && pairs > 50, $"{singles} singles, {pairs} pairs");
    }
}
