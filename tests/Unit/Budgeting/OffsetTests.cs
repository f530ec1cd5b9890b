using Locum.Budgeting;
using Xunit;

namespace Locum.Tests.Unit.Budgeting;

public class OffsetTests
{
    // By hand: three frames of 1 ms at once: 3 ms wait, the last one ends behind 3 ms.
    [Fact]
    public void Frames_released_at_once_pile_up()
    {
        OffsetFrame[] frames = [new("a", 0, 10_000, 0, 1_000), new("b", 1, 10_000, 0, 1_000), new("c", 2, 20_000, 0, 1_000)];

        Assert.Equal(new OffsetFigures(3_000, 3_000), OffsetTimeline.Measure(frames));
        Assert.Equal(new OffsetFigures(1_000, 1_000), OffsetTimeline.Measure([frames[0], frames[1] with { OffsetUs = 5_000 }, frames[2] with { OffsetUs = 2_000 }]));
    }

    // By hand: b of low priority has begun at 0; a, released at 0.5 ms, waits for it: 0.5 + 1 ms.
    [Fact]
    public void A_frame_on_the_wire_is_not_interrupted() =>
        Assert.Equal(new OffsetFigures(1_500, 1_500), OffsetTimeline.Measure([new("a", 0, 10_000, 500, 1_000), new("b", 1, 10_000, 0, 1_000)]));

    [Fact]
    public void Frames_with_room_end_up_alone()
    {
        OffsetFrame[] frames = [.. Enumerable.Range(0, 12).Select(i => new OffsetFrame($"f{i}", i, i < 6 ? 20_000 : 50_000, 0, 270))];

        var chosen = OffsetTimeline.Measure(OffsetOptimiser.Optimise(frames));

        Assert.Equal(12 * 270, OffsetTimeline.Measure(frames).PeakUs);
        Assert.Equal(new OffsetFigures(270, 270), chosen);
    }

    public static TheoryData<int> Seeds => [.. Enumerable.Range(0, 40)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Chosen_offsets_are_never_worse(int seed)
    {
        var random = new Random(seed);
        int[] periods = [10_000, 20_000, 25_000, 50_000, 100_000, 7_000];
        OffsetFrame[] frames = [.. Enumerable.Range(0, random.Next(1, 25)).Select(i => new OffsetFrame($"f{i}", i, periods[random.Next(periods.Length - (seed % 2))], random.Next(0, 20) * 700, random.Next(100, 600)))];

        var chosen = OffsetOptimiser.Optimise(frames);

        var (before, after) = (OffsetTimeline.Measure(frames), OffsetTimeline.Measure(chosen));
        Assert.True(after.PeakUs <= before.PeakUs && after.WorstUs <= before.WorstUs, $"{before} became {after}");
        Assert.Equal(frames.Select(f => (f.Name, f.PeriodUs, f.SlotUs)), chosen.Select(f => (f.Name, f.PeriodUs, f.SlotUs)));
        Assert.All(chosen.Zip(frames).Where(p => p.First.OffsetUs != p.Second.OffsetUs), p => Assert.InRange(p.First.OffsetUs, 0, p.First.PeriodUs - 1));
    }

    [Fact]
    public void Periods_without_a_short_common_multiple_are_followed_for_a_while() =>
        Assert.Equal((60_000L, 20_000_000L), (OffsetTimeline.CommonUs([20_000, 30_000]), OffsetTimeline.CommonUs([9_973_000, 9_967_000])));
}
