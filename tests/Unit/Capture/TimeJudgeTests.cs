using Locum.Capture;
using Locum.Model;
using Xunit;

namespace Locum.Tests.Unit.Capture;

public sealed class TimeJudgeTests
{
    // 100 frames of 111 bits, 10 identifiers in turn, one per millisecond: a tenth of a bus of 1 Mbit/s.
    private static IReadOnlyList<TimeSample> Samples(decimal step, decimal start = 0) =>
        [.. Enumerable.Range(0, 100).Select(i => new TimeSample(start + (i * step), 0, (ulong)(i % 10), 111))];

    [Theory]
    [InlineData(0.001, true, TimeUnit.Seconds)]
    [InlineData(1, false, TimeUnit.Milliseconds)]
    [InlineData(1.0, true, TimeUnit.Milliseconds)]
    [InlineData(1000, false, TimeUnit.Microseconds)]
    [InlineData(1_000_000, false, TimeUnit.Nanoseconds)]
    public void The_unit_is_the_one_in_which_periods_are_usual(double step, bool fractions, TimeUnit unit) =>
        Assert.Equal(unit, TimeJudge.Judge(Samples((decimal)step), fractions, null).Unit);

    [Theory]
    [InlineData(1_700_000_000, 0.001, TimeUnit.Seconds)]
    [InlineData(1_700_000_000_000, 1, TimeUnit.Milliseconds)]
    [InlineData(1_700_000_000_000_000, 1000, TimeUnit.Microseconds)]
    [InlineData(1_700_000_000_000_000_000, 1_000_000, TimeUnit.Nanoseconds)]
    public void Times_since_1970_tell_their_unit(long start, double step, TimeUnit unit) =>
        Assert.Equal((unit, "certain"), (TimeJudge.Judge(Samples((decimal)step, start), false, null) is var g ? (g.Unit, g.Sure) : default));

    [Fact]
    public void More_than_a_bus_can_carry_rules_a_unit_out()
    {
        var guess = TimeJudge.Judge(Samples(1000), false, null);

        Assert.Contains("in ns the bus would carry more than 1 Mbit/s", guess.Reason, StringComparison.Ordinal);
        Assert.Contains("in s 10000 s, in ms 10 s", guess.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void The_header_decides_and_is_doubted_where_it_cannot_be()
    {
        Assert.Equal(new TimeGuess(TimeUnit.Milliseconds, "certain", "the header says so"), TimeJudge.Judge(Samples(1), false, TimeUnit.Milliseconds));
        Assert.Equal("a guess", TimeJudge.Judge(Samples(1), false, TimeUnit.Nanoseconds).Sure);
    }
}
