using CsCheck;
using Locum.Pages;
using Xunit;

namespace Locum.Tests.Unit.Pages;

public sealed class TimeMarksTests
{
    private static readonly Gen<List<long>> s_times = Gen.Long[0, 20_000_000].List[0, 300].Select(l => l.Order().ToList());

    [Fact]
    public void The_script_can_read_all_times_back() => s_times.Sample(times =>
    {
        var last = 0L;
        var read = TimeMarks.Encode(times).Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(t => last += Digits(t)).Select(q => q * TimeMarks.QuantumUs).ToList();
        Assert.Equal(times.Select(t => t - (t % TimeMarks.QuantumUs)), read);
    });

    [Fact]
    public void Every_time_is_in_a_tick_or_in_a_bar() => s_times.Sample(times =>
    {
        var (ticks, bars) = TimeMarks.Paths(times, 20_000_000);
        var places = ticks.Split('M', StringSplitOptions.RemoveEmptyEntries).Select(t => double.Parse(t.Split(' ')[0])).ToList();
        var ranges = bars.Split('M', StringSplitOptions.RemoveEmptyEntries)
            .Select(b => (From: double.Parse(b.Split(' ')[0]), To: double.Parse(b[(b.IndexOf('H', StringComparison.Ordinal) + 1)..b.IndexOf('V', StringComparison.Ordinal)]))).ToList();
        foreach (var x in times.Select(t => t / 20_000.0))
            Assert.True(places.Exists(p => Math.Abs(p - x) <= 0.06) || ranges.Exists(r => x >= r.From - 0.06 && x <= r.To + 0.06), $"{x} is nowhere");
        Assert.True(places.Count + ranges.Count <= (TimeMarks.LaneWidth / 3) + 1);
    });

    [Fact]
    public void Too_many_marks_share_slots()
    {
        IReadOnlyList<IReadOnlyList<long>> lanes = [.. Enumerable.Range(0, 50).Select(i => (IReadOnlyList<long>)[.. Enumerable.Range(0, 2_000).Select(k => (k * 1_000L) + i)])];
        Assert.Equal(0, TimeMarks.SlotUs(lanes, 100_000));
        Assert.Equal(2_000, TimeMarks.SlotUs(lanes, 99_999));
        Assert.Equal(1_000, TimeMarks.Thin(lanes[0], 2_000).Count());
        Assert.Equal([0L, 2_000], TimeMarks.Thin([0, 1_999, 2_000, 3_999], 2_000));
    }

    private static long Digits(string text) => text.Aggregate(0L, (value, c) => (value * 36) + (char.IsAsciiDigit(c) ? c - '0' : c - 'a' + 10));
}
