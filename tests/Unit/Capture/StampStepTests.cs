using Locum.Capture;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Capture;

public sealed class StampStepTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(10)]
    [InlineData(50)]
    [InlineData(1_000)]
    [InlineData(10_000)]
    public void A_round_step_is_found_from_any_zero(long stepUs)
    {
        var random = new Random(5);
        var entries = Enumerable.Range(0, 500).Select(i => new LogEntry((i * 1_731) + random.Next(0, 900), "b", new CanId(0x100, false), [1])).ToList();
        var shifted = entries.Select(e => e with { TimeUs = (e.TimeUs / stepUs * stepUs) + 123_457 }).ToList();
        Assert.Equal(stepUs, StampStep.Of(Recordings.Of(shifted, ["b"])));
    }

    // 1/1024 s is no round number of microseconds, but many frames share a time.
    [Fact]
    public void A_step_that_is_not_round_is_found_by_shared_times()
    {
        var random = new Random(6);
        var entries = Enumerable.Range(0, 2_000).Select(i => (i * 400) + random.Next(0, 300))
            .Select(t => new LogEntry((long)Math.Round(Math.Floor(t / 976.5625) * 976.5625), "b", new CanId(0x100, false), [1])).ToList();
        Assert.InRange(StampStep.Of(Recordings.Of(entries, ["b"])), 900, 1_000);
    }

    [Fact]
    public void Too_little_says_nothing() =>
        Assert.Equal(1, StampStep.Of(Recordings.Of([new LogEntry(0, "b", new CanId(1, false), []), new LogEntry(5_000, "b", new CanId(1, false), [])], ["b"])));
}
