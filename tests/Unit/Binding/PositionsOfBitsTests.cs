using Xunit;

namespace Locum.Tests.Unit.Binding;

public class PositionsOfBitsTests
{
    // Byte × 8 + bit of each field bit from the least significant on, worked out by hand.
    [Theory]
    [InlineData("bit: 0, bits: 4", "0 1 2 3")]
    [InlineData("bit: 6, bits: 4", "6 7 8 9")]
    [InlineData("bit: 6, bits: 4, order: little", "6 7 8 9")]
    [InlineData("bit: 8, bits: 16, order: big", "8 9 10 11 12 13 14 15 0 1 2 3 4 5 6 7")]
    [InlineData("bit: 20, bits: 8, order: big", "20 21 22 23 8 9 10 11")]
    [InlineData("bit: 63, bits: 2, order: big", "63 48")]
    [InlineData("bit: 63, bits: 1", "63")]
    public void Fields_know_the_payload_bits_they_own(string field, string positions)
    {
        var (module, found) = Descriptions.Bind(Descriptions.Fields($"f: {{{field}}}"));

        Assert.Empty(found);
        Assert.Equal(positions, string.Join(' ', module.Frames[0].Fields[0].Positions()));
    }

    [Theory]
    [InlineData("bit: 0, bits: 64")]
    [InlineData("bit: 56, bits: 64, order: big")]
    public void A_field_of_64_bits_owns_every_bit_once(string field)
    {
        var (module, _) = Descriptions.Bind(Descriptions.Fields($"f: {{{field}}}"));

        Assert.Equal(Enumerable.Range(0, 64), module.Frames[0].Fields[0].Positions().Order());
    }
}
