using System.Text;
using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class WireBitsTests
{
    private const string Tail = "1011111111";

    [Fact]
    public void Taking_the_stuff_bits_out_gives_the_unstuffed_frame_back() =>
        Gen.Select(Frames.Id, Frames.Data).Sample((id, data) =>
        {
            string wire = WireBits.Of(id, data);
            Assert.EndsWith(Tail, wire, StringComparison.Ordinal);
            Assert.Equal(WireBits.Unstuffed(id, data), Destuff(wire[..^Tail.Length]));
        });

    [Fact]
    public void No_six_equal_bits_stand_between_sof_and_crc_delimiter() =>
        Gen.Select(Frames.Id, Frames.Data).Sample((id, data) =>
        {
            string stuffed = WireBits.Of(id, data)[..^Tail.Length];
            Assert.DoesNotContain("000000", stuffed, StringComparison.Ordinal);
            Assert.DoesNotContain("111111", stuffed, StringComparison.Ordinal);
        });

    [Fact]
    public void The_crc_register_of_a_receiver_ends_at_zero() =>
        Gen.Select(Frames.Id, Frames.Data).Sample((id, data) =>
        {
            // A receiver divides header, data and CRC by x^15 + x^14 + x^10 + x^8 + x^7 + x^4 + x^3 + 1 (ISO 11898-1).
            uint register = 0;
            foreach (char bit in WireBits.Unstuffed(id, data))
            {
                register = (register << 1) | (uint)(bit - '0');
                if ((register & 0x8000) != 0)
                    register ^= 0xC599;
            }

            Assert.Equal(0u, register);
        });

    private static string Destuff(string wire)
    {
        var text = new StringBuilder();
        int run = 0;
        char last = '?';
        foreach (char bit in wire)
        {
            bool isStuffBit = run == 5;
            run = bit == last ? run + 1 : 1;
            last = bit;
            if (!isStuffBit)
                text.Append(bit);
        }

        return text.ToString();
    }
}
