using Locum.Capture;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Capture;

public sealed class RecordingBuilderTests
{
    private readonly RecordingBuilder _builder = new();

    [Fact]
    public void Series_are_by_bus_then_in_arbitration_order()
    {
        Add(0, 1, 0x100);
        Add(1000, 0, 0x300);
        Add(2000, 0, 0x200);
        Add(3000, 0, 0x200, FrameTraits.Extended);

        var recording = _builder.Build(["front", "rear"]);

        Assert.Equal(
            [("front", new CanId(0x200, true)), ("front", new CanId(0x200, false)), ("front", new CanId(0x300, false)), ("rear", new CanId(0x100, false))],
            recording.Series.Select(s => (s.BusName, s.Id)));
    }

    [Fact]
    public void Payloads_of_all_lengths_are_kept_when_longer_ones_arrive()
    {
        byte[][] payloads = [[1, 2, 3], [], [.. Enumerable.Range(0, 64).Select(i => (byte)i)], [9, 8, 7, 6, 5, 4, 3, 2]];
        foreach (byte[] payload in payloads)
            _builder.Take(new CaptureFrame(0, 0, 5, FrameTraits.Fd, (byte)payload.Length), payload);

        var series = Assert.Single(_builder.Build(["bus"]).Series);

        Assert.Equal(payloads, Enumerable.Range(0, series.Count).Select(i => series.Data(i).ToArray()));
        Assert.Equal((0, 64), (series.ShortestLength, series.LongestLength));
        Assert.Equal(0x030201ul, series.Word(0));
    }

    [Theory]
    [InlineData(1_499, 1)]
    [InlineData(1_500, 2)]
    [InlineData(-1_500, -1)]
    [InlineData(-1_501, -2)]
    public void Nanoseconds_are_rounded_to_the_nearest_microsecond(long ns, long us)
    {
        Add(ns, 0, 1);

        Assert.Equal([us], _builder.Build(["bus"]).Series[0].TimesUs.ToArray());
    }

    [Fact]
    public void Time_running_backwards_or_jumping_breaks_into_parts()
    {
        Add(5_000_000_000, 0, 1);
        Add(5_100_000_000, 0, 1);
        Add(1_000_000_000, 0, 1);
        Add(1_000_000_000_000, 0, 1);
        Add(1_000_001_000_000, 0, 2);

        var recording = _builder.Build(["bus"]);

        Assert.Equal(
            [new RecordingPart(5_000_000, 5_100_000, 2), new(1_000_000, 1_000_000, 1), new(1_000_000_000, 1_000_001_000, 2)],
            recording.Parts);
        Assert.Equal([new Run(0, 2, 0), new(2, 1, 1), new(3, 1, 2)], recording.Series[0].Runs);
    }

    [Fact]
    public void A_small_step_backwards_is_the_same_instant()
    {
        Add(5_000_000, 0, 1);
        Add(4_999_000, 1, 1);

        var recording = _builder.Build(["front", "rear"]);

        Assert.Single(recording.Parts);
        Assert.Equal([5_000L], recording.Series[1].TimesUs.ToArray());
    }

    [Fact]
    public void Errors_and_remote_frames_are_kept_apart_from_data()
    {
        Add(0, 0, 0, FrameTraits.Error);
        Add(1_000, 0, 0x100, FrameTraits.Remote);
        Add(2_000, 0, 0x100);

        var recording = _builder.Build(["bus"]);

        Assert.Equal([0, 1, 2], [recording.Errors.Single().Order, recording.Remotes.Single().Order, recording.Series.Single().Orders[0]]);
        Assert.Equal(1, recording.FrameCount);
    }

    private void Add(long timeNs, int bus, uint id, FrameTraits traits = FrameTraits.None) =>
        _builder.Take(new CaptureFrame(timeNs, bus, id, traits, 0), []);
}
