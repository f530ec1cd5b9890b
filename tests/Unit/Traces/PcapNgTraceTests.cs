using System.Buffers.Binary;
using System.Globalization;
using CsCheck;
using Locum.Simulation;
using Locum.Tests.Unit.Wire;
using Locum.Traces;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Traces;

public class PcapNgTraceTests
{
    [Fact]
    public void An_independent_reader_sees_every_frame()
    {
        var rows = Tshark.Read(Written(SampleFrames.All));

        Assert.Equal(
            [
                ["body", "0.007234000", "721", "0", "0", "0", "8", "00003c7f0000f04b", "cab-heat.HeaterStatus", ""],
                ["drive", "0.007401000", "419361024", "1", "0", "0", "1", "ff", "", ""],
                ["body", "1.000096000", "7", "0", "0", "0", "0", "", "cab-heat.Ping", ""],
                ["drive", "5000.000000000", "16", "1", "0", "0", "2", "dead", "slip.Wheel", ""],
            ],
            rows);
    }

    [Fact]
    public void An_independent_reader_agrees_on_many_random_frames()
    {
        var frame = Gen.Select(
            Gen.OneOf("body", "drive"), Frames.Id, Frames.Data, Gen.Long[0, 1L << 50], Gen.OneOf("", "a.B", "lift-pump.Status1"),
            (bus, id, data, end, sender) => new SentFrame(bus, sender, id, data, end, end, end));

        // Few and long files: starting the reader costs more than reading.
        frame.Array[300].Sample(
            frames => Assert.Equal(
                frames.Select(Expected).Select(fields => string.Join('|', fields)),
                Tshark.Read(Written(frames)).Select(fields => string.Join('|', fields))),
            iter: 3);
    }

    [Fact]
    public void Formats_are_read_back_as_can_and_can_fd_with_and_without_rate_switch()
    {
        var data = Enumerable.Range(1, 12).Select(i => (byte)i).ToArray();
        var rows = Tshark.Read(Written(
        [
            SampleFrames.All[0] with { Data = data, Format = FrameFormat.Fd },
            SampleFrames.All[0] with { Data = data, Format = FrameFormat.FdSwitched },
            SampleFrames.All[0] with { Data = data[..3], Format = FrameFormat.Fd },
            SampleFrames.All[0] with { Data = data[..3] },
        ]));

        Assert.Equal(["12", "12", "3", "3"], rows.Select(row => row[6]));
        Assert.Equal("0102030405060708090a0b0c", rows[0][7]);
        Assert.Equal(["0", "1", "0", ""], rows.Select(row => row[9])); // a classic frame has no such flag
    }

    [Fact]
    public void Writes_the_same_bytes_every_time() =>
        Assert.Equal(Written(SampleFrames.All), Written(SampleFrames.All));

    // The draft's rule for readers in both directions: every block's length stands at both ends and is a
    // multiple of four.
    [Fact]
    public void Blocks_can_be_walked_in_both_directions()
    {
        byte[] file = Written(SampleFrames.All);
        int blocks = 0;
        for (int at = 0; at < file.Length; blocks++)
        {
            int length = BinaryPrimitives.ReadInt32LittleEndian(file.AsSpan(at + 4));
            Assert.Equal(0, length % 4);
            Assert.Equal(length, BinaryPrimitives.ReadInt32LittleEndian(file.AsSpan(at + length - 4)));
            at += length;
        }

        Assert.Equal(1 + SampleFrames.Buses.Count + SampleFrames.All.Count, blocks);
    }

    [Fact]
    public void Refuses_a_bus_that_was_not_announced()
    {
        using var output = new MemoryStream();
        Assert.Throws<ArgumentException>(() => PcapNgTrace.Write(output, ["drive"], SampleFrames.All));
    }

    private static string[] Expected(SentFrame frame) =>
    [
        frame.Bus,
        string.Create(CultureInfo.InvariantCulture, $"{frame.EndUs / 1e6m:F6}000"),
        frame.Id.Value.ToString(CultureInfo.InvariantCulture),
        frame.Id.Extended ? "1" : "0",
        "0",
        "0",
        frame.Data.Length.ToString(CultureInfo.InvariantCulture),
        Convert.ToHexStringLower(frame.Data),
        frame.Sender,
        "",
    ];

    internal static byte[] Written(IEnumerable<SentFrame> frames)
    {
        using var output = new MemoryStream();
        PcapNgTrace.Write(output, SampleFrames.Buses, frames);
        return output.ToArray();
    }
}
