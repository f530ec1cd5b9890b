using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class FrameLengthTests
{
    public static TheoryData<int> FrameRows => [.. Enumerable.Range(0, FrameVectors.Frames.Count)];

    // Source: named in shared/vectors/can-frames.json.
    [Theory]
    [MemberData(nameof(FrameRows))]
    public void Known_frames_have_their_crc_stuff_bits_and_wire_bits(int row)
    {
        var frame = FrameVectors.Frames[row];

        Assert.Equal(frame.Crc15, FrameLength.Crc15(frame.Id, frame.Data));
        Assert.Equal(frame.StuffBits, FrameLength.StuffBits(frame.Id, frame.Data));
        Assert.Equal(frame.Bits, FrameLength.Bits(frame.Id, frame.Data));
        Assert.Equal(frame.Wire, WireBits.Of(frame.Id, frame.Data));
    }

    // Source: Davis, Burns, Bril, Lukkien 2007, from memory (table in shared/vectors/can-frames.json).
    [Fact]
    public void Shortest_and_longest_frames_follow_the_published_formulas()
    {
        Assert.Equal(Enumerable.Range(0, 9), FrameVectors.Lengths.Select(row => row.Length));
        Assert.All(FrameVectors.Lengths, row =>
        {
            Assert.Equal(row.StandardMin, FrameLength.MinimumBits(false, row.Length) + FrameLength.IntermissionBits);
            Assert.Equal(row.StandardMax, FrameLength.MaximumBits(false, row.Length) + FrameLength.IntermissionBits);
            Assert.Equal(row.ExtendedMin, FrameLength.MinimumBits(true, row.Length) + FrameLength.IntermissionBits);
            Assert.Equal(row.ExtendedMax, FrameLength.MaximumBits(true, row.Length) + FrameLength.IntermissionBits);
        });
    }

    [Fact]
    public void The_exact_length_lies_between_shortest_and_longest_and_equals_the_wire() =>
        Gen.Select(Frames.Id, Frames.Data).Sample((id, data) =>
        {
            int bits = FrameLength.Bits(id, data);
            Assert.InRange(
                bits, FrameLength.MinimumBits(id.Extended, data.Length), FrameLength.MaximumBits(id.Extended, data.Length));
            Assert.Equal(WireBits.Of(id, data).Length, bits);
        });

    [Theory]
    [InlineData(111, 500_000, 222)]
    [InlineData(125, 125_000, 1000)]
    [InlineData(1, 1_000_000, 1)]
    [InlineData(1, 800_000, 2)]
    [InlineData(100, 83_333, 1201)]
    [InlineData(0, 500_000, 0)]
    public void Durations_are_whole_microseconds_rounded_up(long bits, long rate, long expected) =>
        Assert.Equal(expected, FrameLength.TimeUs(bits, rate));

    [Fact]
    public void Refuses_what_is_no_classic_frame()
    {
        Assert.Throws<ArgumentException>(() => FrameLength.Bits(new CanId(0x800, false), []));
        Assert.Throws<ArgumentException>(() => FrameLength.Bits(new CanId(1, false), new byte[9]));
        Assert.Throws<ArgumentException>(() => WireBits.Of(new CanId(0x2000_0000, true), []));
    }
}
