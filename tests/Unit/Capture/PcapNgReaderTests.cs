using Locum.Capture;
using Xunit;

namespace Locum.Tests.Unit.Capture;

public sealed class PcapNgReaderTests
{
    // Values from the draft's definition of if_tsresol and if_tsoffset: units of 10^-n or 2^-n seconds, plus seconds.
    [Theory]
    [InlineData(null, null, 1_000_001, 1_000_001_000)]
    [InlineData(6, null, 1_000_001, 1_000_001_000)]
    [InlineData(3, null, 1_001, 1_001_000_000)]
    [InlineData(9, null, 1_001, 1_001)]
    [InlineData(0, null, 7, 7_000_000_000)]
    [InlineData(12, null, 5_000, 5)]
    [InlineData(0x80 | 10, null, 1536, 1_500_000_000)]
    [InlineData(6, 100L, 1, 100_000_001_000)]
    [InlineData(6, -2L, 1_000_000, -1_000_000_000)]
    public void Times_are_computed_from_resolution_and_offset(int? resolution, long? offset, ulong time, long ns)
    {
        foreach (bool big in (bool[])[false, true])
        {
            var captured = Captured.Of(new PcapBytes(big).Section().Interface(resolution: (byte?)resolution, offset: offset)
                .Packet(0, time, PcapBytes.Can(0x2D1, [1])).ToArray());

            Assert.Equal(ns, Assert.Single(captured.Entries).TimeNs);
        }
    }

    [Fact]
    public void Buses_are_named_by_interfaces_across_sections()
    {
        var captured = Captured.Of(new PcapBytes(false).Section().Interface(name: "body").Interface(1, "eth").Interface()
            .Packet(2, 0, PcapBytes.Can(1, [1])).Packet(0, 1, PcapBytes.Can(2, [2])).Packet(1, 2, new byte[20])
            .Raw(new PcapBytes(true).Section().Interface(name: "drive").Interface(name: "body")
                .Packet(0, 3, PcapBytes.Can(3, [3])).Packet(1, 4, PcapBytes.Can(4, [4])).ToArray())
            .ToArray());

        Assert.Equal([("interface 2", 1u), ("body", 2u), ("drive", 3u), ("body", 4u)], captured.Entries.Select(e => (e.Bus, e.Id)));
        Assert.Equal(["body", "interface 2", "drive"], captured.Summary!.Buses.Select(b => b.Name));
        Assert.Equal(1, captured.Count(OddityKind.ForeignPacket));
        Assert.Equal(5, captured.Summary.Items);
    }

    [Fact]
    public void Old_and_simple_packets_are_read()
    {
        var captured = Captured.Of(new PcapBytes(false).Section().Interface()
            .OldPacket(0, 5, PcapBytes.Can(1, [1])).SimplePacket(PcapBytes.Can(2, [2])).ToArray());

        Assert.Equal([(1u, 5000L), (2u, 5000L)], captured.Entries.Select(e => (e.Id, e.TimeNs)));
        Assert.Equal(1, captured.Count(OddityKind.NoTime));
    }

    [Fact]
    public void A_time_out_of_range_is_counted_and_the_frame_kept()
    {
        var captured = Captured.Of(new PcapBytes(false).Section().Interface(resolution: 0)
            .Packet(0, 3, PcapBytes.Can(1, [1])).Packet(0, ulong.MaxValue, PcapBytes.Can(2, [2])).ToArray());

        Assert.Equal([3_000_000_000, 3_000_000_000], captured.Entries.Select(e => e.TimeNs));
        Assert.Equal(1, captured.Count(OddityKind.BadTime));
    }

    [Fact]
    public void A_large_block_of_another_kind_is_passed_over()
    {
        var captured = Captured.Of(new PcapBytes(false).Section().Interface()
            .Block(0x0BAD, new PcapBytes(false).Raw(new byte[ByteSource.Most + 8]))
            .Packet(0, 3, PcapBytes.Can(1, [1])).ToArray());

        Assert.Single(captured.Entries);
        Assert.Empty(captured.Summary!.Oddities);
    }
}
