using Locum.Parts;
using Xunit;

namespace Locum.Tests.Unit.Parts;

public sealed class InrushTests
{
    // Ten times for filaments and six for motors: makers of relays and switches. Near its end within 50 ms: a lamp of 100 W
    // as a museum of lamps describes it.
    [Fact]
    public void A_cold_filament_begins_ten_times_higher_and_settles()
    {
        var inrush = new Inrush(2, (double)Inrush.Filament, 0.05);

        Assert.Equal(20, inrush.PeakA);
        Assert.Equal(20, inrush.At(0), 1e-9);
        Assert.Equal(2 * 1.05, inrush.At(0.05), 1e-9);
        Assert.Equal(2, inrush.At(1), 1e-6);
        Assert.Equal(6, (int)Inrush.Motor);
    }

    // Integrated in steps instead of by formula.
    [Theory]
    [InlineData(2, 10, 0.05)]
    [InlineData(3.2, 6, 0.1)]
    [InlineData(1, 1, 0.1)]
    public void What_a_fuse_lets_pass_is_the_area_of_the_squared_current(double steady, double times, double settles)
    {
        const int Steps = 200_000;
        var inrush = new Inrush(steady, times, settles);
        var sum = Enumerable.Range(0, Steps).Sum(i => Math.Pow(inrush.At((i + 0.5) * settles / Steps), 2)) * settles / Steps;

        Assert.Equal(times > 1 ? sum : 0, inrush.MeltingIntegral, sum * 1e-6);
    }
}
