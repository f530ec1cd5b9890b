using Locum.Inference;
using Locum.Inference.Payload;
using Locum.Inference.Relations;
using Locum.Inference.Timing;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Synthetic frames that follow others.</summary>
public sealed class FollowFinderTests
{
    private static readonly int[] s_walk = [0, 16, 200, 400, 100, 30, 90, 2000, 1500, 1400, 1450, 700, 710, 3, 12, 500];

    [Fact]
    public void An_echo_is_found_with_its_evidence()
    {
        var found = Find(x => x, 0)!;

        Assert.Equal((0x155u, new FieldPlace(8, 11), true), (found.Source.Id.Value, found.From, found.Rule.IsEcho));
        Assert.Equal(Confidence.Certain, found.Confidence);
        Assert.Equal(0, found.Evidence.Contradictions);
    }

    [Theory]
    [InlineData(5, 0)]
    [InlineData(0.5, 0)]
    [InlineData(0.1, 40)]
    [InlineData(2, -0)]
    public void Gain_and_addend_are_found(double gain, double add)
    {
        var found = Find(x => (int)Math.Round((x * gain) + add, MidpointRounding.AwayFromZero), 0)!;

        Assert.Equal(((decimal)gain, (decimal)add), (found.Rule.Gain, found.Rule.Add));
        Assert.True(found.Confidence >= Confidence.Likely, found.Confidence.ToString());
    }

    [Fact]
    public void A_limit_and_the_value_of_a_lost_source_are_told_apart()
    {
        var found = Find(x => x < 0 ? 255 : Math.Min((int)Math.Round(x * 0.1, MidpointRounding.AwayFromZero), 120), 0)!;

        Assert.Equal((0.1m, 120L), (found.Rule.Gain, found.Rule.AtMost));
    }

    [Fact]
    public void A_delay_is_counted_in_releases() => Assert.Equal(3, Find(x => x, 3)!.Rule.Delay);

    [Fact]
    public void What_has_nothing_to_do_with_the_source_follows_nothing() => Assert.Null(Find(x => (x * 7919) % 1021, 0));

    // Two values that rise with time: one explains the other as well as anything that rises.
    [Fact]
    public void A_steady_rise_is_never_more_than_possible()
    {
        var frames = new Synthetic()
            .Every(0x155, 400, 20_000, i => [(byte)(i / 4), 0])
            .Every(0x100, 400, 20_000, i => [(byte)(i / 4), 1], 5_000).Record();
        var found = FindIn(frames, new FieldPlace(0, 7));
        Assert.Equal(Confidence.Possible, found?.Confidence ?? Confidence.Possible);
    }

    // The source changes every 200 ms, the follower is sent every 10 ms.
    private static FollowFinding? Find(Func<int, int> rule, int delay)
    {
        int Source(int ms) => ms < 100 ? -1 : s_walk[Math.Min((ms - 100) / 200, s_walk.Length - 1)];
        var frames = new Synthetic()
            .Every(0x155, 160, 20_000, i => Word(Source((i * 20) + 107)), 107_000)
            .Every(0x300, 300, 10_000, i => [(byte)(i * 37), (byte)(i >> 3)])
            .Every(0x100, 330, 10_000, i => [0x5A, .. BitConverter.GetBytes((ushort)rule(Source(Math.Max(0, ((i - delay) * 10) + 4 - 7))))], 4_000).Record();
        return FindIn(frames, new FieldPlace(8, 16));
    }

    private static FollowFinding? FindIn(Locum.Capture.Recording recording, FieldPlace place)
    {
        var series = recording.Series.Single(s => s.Id.Value is 0x100);
        var sources = recording.Series.Where(s => s != series).SelectMany(SourceFields.Of).ToList();
        return new FollowFinder(sources, 1).Find(Payloads.Of(series, SteadyNumber.StepsByRun(series)), series, place);
    }

    private static byte[] Word(int value) => [0, (byte)value, (byte)(value >> 8)];
}
