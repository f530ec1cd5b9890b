using Locum.Capture;
using Xunit;

namespace Locum.Tests.Unit.Capture;

public sealed class PcapReaderTests
{
    private const uint Nano = 0xA1B23C4D;

    [Theory]
    [InlineData(false, 0xA1B2C3D4, 5_000_123_000)]
    [InlineData(true, 0xA1B2C3D4, 5_000_123_000)]
    [InlineData(false, Nano, 5_000_000_123)]
    [InlineData(true, Nano, 5_000_000_123)]
    public void Both_byte_orders_and_both_resolutions_are_read(bool big, uint magic, long timeNs)
    {
        var captured = Captured.Of(new PcapBytes(big).PcapHeader(magic)
            .PcapPacket(5, 123, PcapBytes.Can(0x2D1, [1, 2]))
            .PcapPacket(5, 123, PcapBytes.Can(0x98FEF100, [3]))
            .ToArray());

        Assert.Equal([Entry.Of(timeNs, 0x2D1, "0102"), Entry.Of(timeNs, 0x18FEF100, "03", FrameTraits.Extended)], captured.Entries);
        Assert.Empty(captured.Summary!.Oddities);
        Assert.Equal((CaptureFormat.Pcap, 2L, "packet"), (captured.Summary.Format, captured.Summary.Items, captured.Summary.ItemWord));
    }

    [Fact]
    public void Kinds_of_frames_are_told_apart()
    {
        var captured = Captured.Of(new PcapBytes(false).PcapHeader()
            .PcapPacket(0, 1, PcapBytes.Can(0x4000_0123, [])[..4].Concat(new byte[] { 5, 0, 0, 0 }).ToArray())
            .PcapPacket(0, 2, PcapBytes.Can(0x2000_0004, new byte[8]))
            .PcapPacket(0, 3, PcapBytes.Can(0x123, new byte[12], flags: 0x04))
            .PcapPacket(0, 4, PcapBytes.Can(0x123, new byte[2], flags: 0x07))
            .PcapPacket(0, 5, PcapBytes.Can(0x123, [1]).Concat(new byte[63]).ToArray())
            .PcapPacket(0, 6, PcapBytes.Can(0x123, [1]).Concat(new byte[7]).ToArray())
            .ToArray());

        Assert.Equal(
            [
                new Entry(1000, "bus", 0x123, FrameTraits.Remote, 5, ""),
                new Entry(2000, "bus", 0, FrameTraits.Error, 0, ""),
                Entry.Of(3000, 0x123, new string('0', 24), FrameTraits.Fd),
                Entry.Of(4000, 0x123, "0000", FrameTraits.Fd | FrameTraits.RateSwitched | FrameTraits.ErrorPassive),
                Entry.Of(5000, 0x123, "01", FrameTraits.Fd), // the size of a CAN FD packet, from before there was a flag
                Entry.Of(6000, 0x123, "01"), // padded to the size of a classic one
            ],
            captured.Entries);
    }

    // The identifier of cooked captures has the byte order of the machine, which is that of the file.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Cooked_captures_are_read(bool big)
    {
        var captured = Captured.Of(new PcapBytes(big).PcapHeader(linkType: PcapBytes.Cooked)
            .PcapPacket(1, 0, PcapBytes.Cook(PcapBytes.Can(0x2D1, [7], littleEndian: !big), 0x000C))
            .PcapPacket(1, 1, PcapBytes.Cook(PcapBytes.Can(0x2D2, [8], littleEndian: !big), 0x000D))
            .PcapPacket(1, 2, PcapBytes.Cook([1, 2, 3], 0x0800))
            .ToArray());

        Assert.Equal([Entry.Of(1_000_000_000, 0x2D1, "07"), Entry.Of(1_000_001_000, 0x2D2, "08", FrameTraits.Fd)], captured.Entries);
        Assert.Equal(1, captured.Count(OddityKind.ForeignPacket));
    }

    [Fact]
    public void Cooked_captures_of_the_second_kind_name_interfaces()
    {
        var captured = Captured.Of(new PcapBytes(false).PcapHeader(linkType: PcapBytes.Cooked2)
            .PcapPacket(1, 0, PcapBytes.Cook2(PcapBytes.Can(0x2D1, [7], littleEndian: true), 0x000C, 3))
            .PcapPacket(1, 1, PcapBytes.Cook2(PcapBytes.Can(0x2D1, [8], littleEndian: true), 0x000C, 5))
            .ToArray());

        Assert.Equal(["interface 3", "interface 5"], captured.Entries.Select(e => e.Bus));
    }

    [Fact]
    public void A_length_that_would_swallow_neighbours_is_damage()
    {
        var good = new PcapBytes(false).PcapHeader();
        for (uint i = 0; i < 40; i++)
            good.PcapPacket(1, i * 100, PcapBytes.Can(0x100 + i, new byte[8]));
        var bytes = good.ToArray();
        bytes[24 + (10 * 32) + 9] = 1; // captured length of packet 11: 16 → 272

        var captured = Captured.Of(bytes);

        Assert.Equal(39, captured.Entries.Count);
        Assert.Equal(1, captured.Count(OddityKind.DamagedRest));
    }
}
