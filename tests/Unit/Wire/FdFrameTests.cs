using System.Globalization;
using System.Text.Json;
using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class FdFrameTests
{
    private static readonly JsonElement s_vectors =
        JsonDocument.Parse(File.ReadAllText(RepoRoot.Path("shared", "vectors", "can-fd.json"))).RootElement;

    private static readonly Gen<(CanId Id, byte[] Data, bool Switched)> s_frame = Gen.Select(Frames.Id, Frames.FdData, Gen.Bool);

    // Sources: named in shared/vectors/can-fd.json.
    [Fact]
    public void Lengths_and_stuff_counts_are_the_published_ones()
    {
        Assert.Equal(s_vectors.GetProperty("lengths").EnumerateArray().Select(l => l.GetInt32()), FdLengths.All);
        Assert.Equal(s_vectors.GetProperty("stuffCounts").EnumerateArray().Select(l => l.GetString()!), Enumerable.Range(8, 8).Select(FdWireBits.StuffCount));
        Assert.Equal([null, 9, null, 15, null], new[] { 9, 12, 13, 64, 65 }.Select(FdLengths.Code));
        Assert.Equal([0, 8, 12, 16, 48, 64, 64], new long[] { 0, 8, 9, 13, 33, 49, 65 }.Select(FdLengths.AtLeast));
    }

    [Fact]
    public void Crcs_have_their_check_values()
    {
        string input = string.Concat("123456789".Select(c => Convert.ToString(c, 2).PadLeft(8, '0')));
        foreach (var crc in s_vectors.GetProperty("crcs").EnumerateArray())
        {
            int width = crc.GetProperty("width").GetInt32();
            Assert.Equal(Hex(crc, "check"), FdCrc.Compute(input, width, 0));
            // The start value on the wire, seen through a row of no bits.
            Assert.Equal(Hex(crc, "start"), Convert.ToUInt32(FdCrc.Of("", width), 2));
        }
    }

    // By hand from the rules: id 0, no data, no switch. SOF to DLC is 14 zeros, FDF 1, then 7 zeros; stuff bits
    // after 5 and 10 zeros (each stuff bit starts a new run), and one after 5 of the last 7.
    [Fact]
    public void The_simplest_frame_has_the_length_counted_by_hand()
    {
        string wire = FdWireBits.Of(new CanId(0, false), [], switched: false);
        Assert.StartsWith("000001" + "000001" + "0000" + "1" + "000001" + "00" + "1", wire, StringComparison.Ordinal);
        // 22 header bits, 3 stuff bits, 6 fixed stuff bits, 4 + 17, delimiter, 9.
        Assert.Equal(22 + 3 + 6 + 21 + 1 + 9, wire.Length);
        Assert.Equal(new WireLength(wire.Length, 0), FdFrameLength.Of(new CanId(0, false), [], false));
    }

    // The last data byte ends in five zeros: the fixed stuff bit stands alone, and the stuff count leaves it out.
    [Fact]
    public void No_dynamic_stuff_bit_follows_the_last_data_bit()
    {
        var id = new CanId(0x555, false);
        int with = FdFrameLength.Of(id, [0x55, 0x60], true).Fast;
        Assert.Equal(FdFrameLength.Minimum(false, 2, true).Fast, with);
        // One bit earlier the same run is stuffed.
        Assert.Equal(with + 1, FdFrameLength.Of(id, [0x55, 0xC1], true).Fast);
    }

    [Fact]
    public void A_receiver_reads_every_frame_back() => s_frame.Sample(f =>
    {
        var read = FdReceiver.Read(FdWireBits.Of(f.Id, f.Data, f.Switched));
        Assert.Equal(f.Id, read.Id);
        Assert.Equal(f.Data, read.Data);
        Assert.Equal(f.Switched, read.Switched);
    });

    [Fact]
    public void Counting_equals_the_wire_by_rate_and_lies_within_the_bounds() => s_frame.Sample(f =>
    {
        var wire = FdWireBits.Of(f.Id, f.Data, f.Switched);
        var read = FdReceiver.Read(wire);
        var length = FdFrameLength.Of(f.Id, f.Data, f.Switched);
        Assert.Equal(f.Switched ? new WireLength(read.BitsToSwitch + 9, read.BitsBehindSwitch) : new WireLength(wire.Length, 0), length);
        var least = FdFrameLength.Minimum(f.Id.Extended, f.Data.Length, f.Switched);
        var most = FdFrameLength.Maximum(f.Id.Extended, f.Data.Length, f.Switched);
        Assert.InRange(length.Nominal, least.Nominal, most.Nominal);
        Assert.InRange(length.Nominal + length.Fast, least.Nominal + least.Fast, most.Nominal + most.Fast);
        Assert.InRange(length.TimeUs(500_000, 2_000_000), least.TimeUs(500_000, 2_000_000), most.TimeUs(500_000, 2_000_000));
    });

    [Fact]
    public void A_receiver_finds_every_flipped_bit_before_the_acknowledge_slot() => s_frame.Sample(
        f =>
        {
            string wire = FdWireBits.Of(f.Id, f.Data, f.Switched);
            for (int i = 0; i < wire.Length - 9; i += 1 + (wire.Length / 40))
            {
                char[] bits = wire.ToCharArray();
                bits[i] = bits[i] == '0' ? '1' : '0';
                Assert.ThrowsAny<SystemException>(() => FdReceiver.Read(new string(bits)));
            }
        },
        iter: 50);

    [Theory]
    [InlineData(100, 200, 500_000, 2_000_000, 300)]
    [InlineData(1, 0, 500_000, 8_000_000, 2)]
    [InlineData(1, 1, 1_000_000, 8_000_000, 2)]
    [InlineData(0, 8, 1_000_000, 8_000_000, 1)]
    [InlineData(29, 610, 33_333, 1_000_000, 1481)] // 870.0087 + 610, rounded up once
    public void Time_adds_both_rates_and_rounds_up_once(int nominal, int fast, long rate, long dataRate, long expected) =>
        Assert.Equal(expected, new WireLength(nominal, fast).TimeUs(rate, dataRate));

    [Fact]
    public void Refuses_what_is_no_fd_frame()
    {
        Assert.Throws<ArgumentException>(() => FdFrameLength.Of(new CanId(0x800, false), [], false));
        Assert.Throws<ArgumentException>(() => FdFrameLength.Of(new CanId(1, false), new byte[9], false));
        Assert.Throws<ArgumentException>(() => FdWireBits.Of(new CanId(1, false), new byte[65], true));
        Assert.Throws<ArgumentOutOfRangeException>(() => FdCrc.Compute("", 15, 0));
    }

    private static uint Hex(JsonElement entry, string property) =>
        uint.Parse(entry.GetProperty(property).GetString()!, NumberStyles.HexNumber, CultureInfo.InvariantCulture);
}
