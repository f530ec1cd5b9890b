using System.Globalization;
using CsCheck;
using Locum.Capture;
using Locum.Tests.Unit.Traces;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Capture;

/// <summary>The same files read by tshark, which shares nothing with this project.</summary>
public sealed class TsharkComparisonTests
{
    private const uint Extended = 0x8000_0000;
    private const uint Remote = 0x4000_0000;
    private const uint Error = 0x2000_0000;

    // Identifier and flags, data, flags of CAN FD, microseconds.
    private static readonly Gen<(uint Word, byte[] Data, byte Flags, uint Us)> s_packets =
        from kind in Gen.Int[0, 9]
        from id in kind % 2 is 0 ? Gen.UInt[0, CanId.MaxStandard] : Gen.UInt[0, CanId.MaxExtended].Select(i => i | Extended)
        from length in kind > 6 ? Gen.OneOf(FdLengths.All.ToArray()) : Gen.Int[0, 8]
        from data in Gen.Byte.Array[length]
        from brs in Gen.Bool
        from us in Gen.UInt[0, 999_999]
        select kind switch
        {
            5 => (id | Remote, Array.Empty<byte>(), (byte)0, us),
            6 => (Error | 4, new byte[8], (byte)0, us),
            > 6 => (id, data, (byte)(brs ? 0x05 : 0x04), us),
            _ => (id, data, (byte)0, us),
        };

    [Fact]
    public void Pcap_of_both_byte_orders_and_resolutions_reads_the_same() => s_packets.Array[200].Sample(
        packets =>
        {
            foreach (bool big in (bool[])[false, true])
            {
                var micro = new PcapBytes(big).PcapHeader();
                var nano = new PcapBytes(big).PcapHeader(0xA1B23C4D);
                foreach (var (word, data, flags, us) in packets)
                {
                    micro.PcapPacket(1_700_000_000, us, PcapBytes.Can(word, data, flags));
                    nano.PcapPacket(1_700_000_000, us * 999, PcapBytes.Can(word, data, flags));
                }

                Same(micro.ToArray());
                Same(nano.ToArray());
            }
        },
        iter: 2);

    [Fact]
    public void Pcapng_of_several_interfaces_reads_the_same() => s_packets.Array[200].Sample(
        packets =>
        {
            foreach (bool big in (bool[])[false, true])
            {
                var file = new PcapBytes(big).Section().Interface(name: "body").Interface(name: "drive", resolution: 9);
                foreach (var (word, data, flags, us) in packets)
                    file.Packet(us % 2, us % 2 is 0 ? 1_700_000_000_000_000UL + us : 1_700_000_000_000_000_000UL + us, PcapBytes.Can(word, data, flags));
                Same(file.ToArray());
            }
        },
        iter: 2);

    [Theory]
    [InlineData(PcapBytes.Cooked)]
    [InlineData(PcapBytes.Cooked2)]
    public void Cooked_captures_read_the_same(int linkType) => s_packets.Array[100].Sample(
        packets =>
        {
            var file = new PcapBytes(false).PcapHeader(linkType: linkType);
            foreach (var (word, data, flags, us) in packets)
            {
                var packet = PcapBytes.Can(word, data, flags, littleEndian: true);
                ushort protocol = (ushort)(flags is 0 ? 0x000C : 0x000D);
                file.PcapPacket(1_700_000_000, us, linkType is PcapBytes.Cooked ? PcapBytes.Cook(packet, protocol) : PcapBytes.Cook2(packet, protocol, 1));
            }

            Same(file.ToArray());
        },
        iter: 2);

    private static void Same(byte[] file)
    {
        var captured = Captured.Of(file);
        var rows = Tshark.Read(file);
        Assert.Equal(rows.Count, captured.Entries.Count);
        Assert.Equal(rows.Select(Text), captured.Entries.Select(Text));
    }

    private static string Text(string[] row)
    {
        bool error = row[5] is "1";
        return string.Join(' ', row[1], error ? "error" : $"{row[2]} {row[3]} {(row[4] is "1" ? 1 : 0)} {row[6]} {row[7]} {(row[9] is "1" ? "brs" : "")}");
    }

    private static string Text(Entry entry)
    {
        var traits = entry.Traits;
        string time = string.Create(CultureInfo.InvariantCulture, $"{entry.TimeNs / 1_000_000_000}.{entry.TimeNs % 1_000_000_000:D9}");
        return string.Join(' ', time, (traits & FrameTraits.Error) is not 0 ? "error"
            : $"{entry.Id} {Flag(traits, FrameTraits.Extended)} {Flag(traits, FrameTraits.Remote)} {entry.Length} {Convert.ToHexStringLower(Convert.FromHexString(entry.Data))} {((traits & FrameTraits.RateSwitched) is 0 ? "" : "brs")}");
    }

    private static int Flag(FrameTraits traits, FrameTraits flag) => (traits & flag) is 0 ? 0 : 1;
}
