using Locum.Comparing;
using Locum.Tests.Unit.Capture;
using Xunit;
using static Locum.Tests.Unit.Comparing.Garage;

namespace Locum.Tests.Unit.Comparing;

/// <summary>Which of the missing identifiers one clock released.</summary>
public sealed class SenderTests
{
    private static readonly NamedCapture s_without = Of("out", Every(0x700, 20_000, 60));

    [Fact]
    public void Phases_that_keep_still_over_several_starts_are_one_sender()
    {
        var random = new Random(1);
        var groups = Comparison.Of([.. Enumerable.Range(0, 3).Select(i => Start($"{i}", 0.3 * i, 0, random))], [s_without]).Groups;
        var group = Assert.Single(groups);
        Assert.Equal([0x100u, 0x101u], group.Ids.Select(i => i.Value));
        Assert.Equal((3, 3), (group.Evidence.Tested, group.Evidence.Hits));
        Assert.True(group.Evidence.Log10Chance < -2, $"{group.Evidence}");
    }

    // Another crystal, 40 ppm off: 2.4 ms in a minute.
    [Fact]
    public void Phases_that_run_away_are_two_senders()
    {
        var random = new Random(2);
        Assert.Empty(Comparison.Of([.. Enumerable.Range(0, 3).Select(i => Start($"{i}", 0.3 * i, 40e-6, random))], [s_without]).Groups);
    }

    // Six seconds leave room for any crystal.
    [Fact]
    public void One_short_capture_is_too_little()
    {
        var random = new Random(3);
        Assert.Empty(Comparison.Of([Start("0", 0, 0, random, 6)], [s_without]).Groups);
    }

    [Fact]
    public void Periods_that_are_no_multiples_are_not_joined()
    {
        var with = Of("in", Every(0x700, 20_000, 60), Every(0x100, 20_000, 60), Every(0x101, 33_000, 60));
        Assert.Empty(Comparison.Of([with], [s_without]).Groups);
    }

    private static NamedCapture Start(string name, double at, double apart, Random random, double seconds = 60) => Of(name,
        Every(0x700, 20_000, seconds),
        Every(0x100, 20_000, seconds, 0.5 + at, late: _ => random.Next(0, 400)),
        Every(0x101, 100_000, seconds, 0.513 + at, late: i => random.Next(0, 400) + (long)(i * 100_000 * apart)));
}
