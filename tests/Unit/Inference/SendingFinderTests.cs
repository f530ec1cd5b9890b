using Locum.Inference;
using Locum.Inference.Timing;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Synthetic series with what loggers do to times: clock errors, rough stamps, buffers, losses.</summary>
public sealed class SendingFinderTests
{
    private readonly Random _random = new(4711);

    [Theory]
    [InlineData(10_000, 0)]
    [InlineData(20_000, 300)]
    [InlineData(25_000, -700)]
    [InlineData(100_000, 2_500)]
    [InlineData(640_000, 0)]
    [InlineData(1_000_000, -3_000)]
    [InlineData(33_000, 200)]
    public void The_nominal_period_is_found_behind_a_clock_error(long period, int ppm)
    {
        var found = Find(Frames(100, period * (1 + (ppm / 1e6)), _ => _random.NextDouble() * 300));

        Assert.Equal((SendingKind.Cyclic, period), (found.Kind, found.NominalUs));
        Assert.Equal(Confidence.Certain, found.Confidence);
        Assert.InRange(found.MeanUs, period * (1 + ((ppm - 50) / 1e6)), period * (1 + ((ppm + 50) / 1e6)));
    }

    [Theory]
    [InlineData(17_340)]
    [InlineData(4_321)]
    [InlineData(123_400)]
    public void A_period_that_nobody_would_choose_stays_as_measured(long period) =>
        Assert.Equal(period, Find(Frames(300, period, _ => 0)).NominalUs);

    [Theory]
    [InlineData(10_000)]
    [InlineData(20_000)]
    [InlineData(12_500)]
    [InlineData(5_000)]
    public void Time_stamps_in_whole_milliseconds_do_not_hide_the_period(long period)
    {
        var found = Find(Frames(400, period * 1.0002, _ => _random.NextDouble() * 200, stampUs: 1_000));

        Assert.Equal((SendingKind.Cyclic, period), (found.Kind, found.NominalUs));
        Assert.True(found.Confidence >= Confidence.Likely);
    }

    [Fact]
    public void Frames_that_the_logger_missed_are_counted_and_leave_the_period()
    {
        var found = Find(Frames(500, 20_000, _ => _random.NextDouble() * 500, lost: i => i % 17 is 3 || i is > 200 and < 205));

        Assert.Equal((SendingKind.Cyclic, 20_000L), (found.Kind, found.NominalUs));
        Assert.Equal(30 + 4, found.Missing);
        Assert.Equal(0, found.Evidence.Contradictions);
        Assert.Contains((byte)2, found.Steps);
    }

    // A logger that empties its buffer every 50 ms and stamps what it finds.
    [Fact]
    public void A_buffering_logger_leaves_the_number_of_frames()
    {
        var found = Find(Frames(1_000, 10_000, _ => 0, stampUs: 50_000));

        Assert.True(found.ByNumber);
        Assert.Equal(10_000, found.NominalUs);
        Assert.Equal(Confidence.Likely, found.Confidence);
    }

    [Fact]
    public void Random_events_have_no_period()
    {
        double time = 0;
        var frames = new Synthetic();
        for (int i = 0; i < 400; i++)
            frames.Add(time += -20_000 * Math.Log(1 - _random.NextDouble()), 0x100, 1);
        var found = Find(frames);
        Assert.Equal(SendingKind.Events, found.Kind);
    }

    [Fact]
    public void A_fast_beginning_is_told_from_the_period()
    {
        var found = Find(new Synthetic().Every(0x100, 5, 20_000, _ => [1], 1_000_000).Every(0x100, 30, 500_000, _ => [1], 1_580_000));

        Assert.Equal((SendingKind.Cyclic, 500_000L, 5, 20_000L), (found.Kind, found.NominalUs, found.BurstCount, found.BurstUs));
        Assert.Equal(1_000_000, found.Stretches[0].ReleaseUs, 1.0);
    }

    [Fact]
    public void The_same_fast_beginning_after_a_short_pause_is_another_start()
    {
        var frames = new Synthetic();
        foreach (double start in (double[])[0, 7_000_000, 13_000_000])
            frames.Every(0x100, 5, 20_000, _ => [1], start).Every(0x100, 10, 500_000, _ => [1], start + 580_000);
        var found = Find(frames);

        Assert.Equal((5, 3, Confidence.Likely), (found.BurstCount, found.Stretches.Count, found.BurstEvidence.Confidence.AtMost(Confidence.Likely)));
        Assert.Equal(0, found.Missing);
    }

    [Fact]
    public void Several_periods_are_told_with_the_one_that_lasts_longest_first()
    {
        var found = Find(new Synthetic().Every(0x100, 12, 500_000, _ => [1]).Every(0x100, 20, 50_000, _ => [1], 6_000_000).Every(0x100, 12, 500_000, _ => [1], 7_400_000));

        Assert.Equal((SendingKind.SeveralPeriods, 500_000L), (found.Kind, found.NominalUs));
        Assert.Equal(50_000, Assert.Single(found.Others).PeriodUs, 1_000.0);
        Assert.Equal(0, found.Extra);
    }

    [Fact]
    public void Events_between_the_periods_are_counted_apart()
    {
        var found = Find(new Synthetic().Every(0x100, 100, 100_000, _ => [1]).Add(1_033_000, 0x100, 2).Add(4_471_000, 0x100, 2).Add(7_029_000, 0x100, 2));

        Assert.Equal((SendingKind.Cyclic, 100_000L, 3, 0), (found.Kind, found.NominalUs, found.Extra, found.Missing));
    }

    [Fact]
    public void Three_frames_in_three_seconds_are_a_possible_period()
    {
        var found = Find(new Synthetic().Every(0x200, 300, 10_000, _ => [1]).Every(0x100, 3, 1_000_000, _ => [1], 400_000));

        Assert.Equal((SendingKind.Cyclic, 1_000_000L, Confidence.Possible), (found.Kind, found.NominalUs, found.Confidence));
    }

    [Fact]
    public void A_few_frames_at_the_beginning_only_are_no_period()
    {
        var found = Find(new Synthetic().Every(0x200, 1_000, 10_000, _ => [1]).Every(0x100, 3, 20_000, _ => [1], 400_000));

        Assert.Equal(SendingKind.Rare, found.Kind);
    }

    [Fact]
    public void Silence_splits_the_frames_into_stretches()
    {
        var found = Find(new Synthetic().Every(0x100, 100, 20_000, _ => [1]).Every(0x100, 100, 20_000, _ => [1], 8_000_000));

        Assert.Equal([(0, 100), (100, 100)], found.Stretches.Select(s => (s.First, s.Count)));
        Assert.Equal(0, found.Missing);
        Assert.Equal(0, found.Steps[100]);
    }

    private Synthetic Frames(int count, double period, Func<int, double> jitter, double stampUs = 1, Func<int, bool>? lost = null)
    {
        double first = 123_456 + (_random.NextDouble() * 5_000);
        double Stamp(int i) => Math.Ceiling((first + (i * period) + jitter(i)) / stampUs) * stampUs;
        return new Synthetic().Every(0x100, count, 0, _ => [1], 0, Stamp, lost).Every(0x300, count, 0, _ => [1], 0, i => Stamp(i) + stampUs);
    }

    private static SendingFinding Find(Synthetic frames)
    {
        var recording = frames.Record();
        return SendingFinder.Find(recording.Series.Single(s => s.Id.Value is 0x100), recording.Parts, TimeStamps.QuantumUs(recording));
    }
}
