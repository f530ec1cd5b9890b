using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class CanIdTests
{
    [Theory]
    [InlineData(0x2D1u, false, "0x2D1")]
    [InlineData(0x7u, false, "0x007")]
    [InlineData(0x18FEF100u, true, "0x18FEF100")]
    [InlineData(0x2D1u, true, "0x000002D1")]
    public void Is_written_in_hexadecimal_with_the_width_of_its_format(uint value, bool extended, string expected) =>
        Assert.Equal(expected, new CanId(value, extended).ToString());

    [Theory]
    [InlineData(0x7FFu, false, true)]
    [InlineData(0x800u, false, false)]
    [InlineData(0x1FFFFFFFu, true, true)]
    [InlineData(0x20000000u, true, false)]
    public void Is_valid_when_it_fits_its_format(uint value, bool extended, bool expected) =>
        Assert.Equal(expected, new CanId(value, extended).IsValid);

    [Fact]
    public void The_11_bit_format_wins_against_the_29_bit_format_with_the_same_base()
    {
        var standard = new CanId(0x123, false);
        var extended = new CanId(0x123u << 18, true);

        Assert.True(CanId.CompareArbitration(standard, extended) < 0);
        Assert.True(CanId.CompareArbitration(extended, standard) > 0);
    }

    [Fact]
    public void A_lower_base_wins_whatever_the_format() =>
        Assert.True(CanId.CompareArbitration(new CanId((0x122u << 18) | 0x3FFFF, true), new CanId(0x123, false)) < 0);

    [Fact]
    public void Arbitration_agrees_with_the_first_differing_bit_on_the_wire() =>
        Gen.Select(Frames.Id, Frames.Id).Sample((a, b) =>
        {
            // Bit-wise AND of two senders: whoever sends recessive (1) against dominant (0) drops out.
            int expected = string.CompareOrdinal(WireBits.Unstuffed(a, []), WireBits.Unstuffed(b, []));
            Assert.Equal(Math.Sign(expected), Math.Sign(CanId.CompareArbitration(a, b)));
        });
}
