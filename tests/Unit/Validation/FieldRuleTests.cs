using Xunit;

namespace Locum.Tests.Unit.Validation;

public class FieldRuleTests
{
    [Theory]
    [InlineData("a: {bit: 60, bits: 4}", "")]
    [InlineData("a: {bit: 60, bits: 5}", "LC0601")]
    [InlineData("a: {bit: 0, bits: 64}", "")]
    [InlineData("a: {bit: 1, bits: 64}", "LC0601")]
    [InlineData("a: {bit: 0, bits: 8, order: big}", "")]
    [InlineData("a: {bit: 0, bits: 9, order: big}", "LC0601")] // would go on in the byte before the first
    [InlineData("a: {bit: 4, bits: 64, order: big}", "LC0601")]
    [InlineData("a: {bit: 56, bits: 64, order: big}", "")]
    public void Fields_lie_inside_the_frame(string fields, string codes) => Assert.Equal(codes, Check(fields));

    [Fact]
    public void Fields_lie_inside_a_short_frame() =>
        Assert.Equal("LC0601", Descriptions.Ids(Descriptions.Check(Descriptions.Module("frames: {F: {id: 1, length: 1, every: 1 s, fields: {a: {bit: 7, bits: 2}}}}"))));

    [Theory]
    [InlineData("a: {bit: 0, bits: 8}, b: {bit: 8, bits: 8}", "")]
    [InlineData("a: {bit: 0, bits: 9}, b: {bit: 8, bits: 8}", "LC0602")]
    [InlineData("a: {bit: 8, bits: 12, order: big}, b: {bit: 4, bits: 4}", "")] // a owns 8..15 and 0..3
    [InlineData("a: {bit: 8, bits: 12, order: big}, b: {bit: 3, bits: 4}", "LC0602")]
    [InlineData("a: {bit: 0, bits: 64}, b: {bit: 63, bits: 1}, c: {bit: 0, bits: 1}", "LC0602 LC0602")]
    public void No_bit_belongs_to_two_fields(string fields, string codes) => Assert.Equal(codes, Check(fields));

    [Fact]
    public void An_overlap_names_the_bit_and_the_first_field()
    {
        var finding = Assert.Single(Descriptions.Check(Descriptions.Fields("a: {bit: 0, bits: 12}, b: {bit: 11, bits: 2}")));

        Assert.Equal("'b' and 'a' both have bit 3 of byte 1", finding.Message);
        Assert.NotNull(finding.Other);
    }

    [Theory]
    [InlineData("c: {bit: 0, bits: 4, counter: {to: 15}}", "")]
    [InlineData("c: {bit: 0, bits: 4, counter: {to: 16}}", "LC0701")]
    [InlineData("c: {bit: 0, bits: 4, counter: {from: 16, to: 0}}", "LC0701")]
    [InlineData("c: {bit: 0, bits: 32, counter: {to: 0xFFFFFFFF}}", "")]
    [InlineData("c: {bit: 0, bits: 64, counter: {to: 0xFFFFFFFF}}", "")]
    [InlineData("g: {bit: 0, bits: 8, checksum: {rule: sum, over: 0..1}}", "LC0706")]
    [InlineData("g: {bit: 0, bits: 8, checksum: {rule: sum, over: 0..1, own bits: zero}}", "")]
    [InlineData("g: {bit: 12, bits: 8, order: big, checksum: {rule: sum, over: 0}}", "LC0706")] // its upper half lies in byte 0
    [InlineData("g: {bit: 0, bits: 8, checksum: {rule: sum, over: 1}}, h: {bit: 8, bits: 8, checksum: {rule: sum, over: 2}}", "LC0709")]
    [InlineData("h: {bit: 8, bits: 8, checksum: {rule: sum, over: 2}}, g: {bit: 0, bits: 8, checksum: {rule: sum, over: 1}}", "")]
    [InlineData("g: {bit: 0, bits: 7, checksum: {rule: crc8, over: 1}}", "LC0708")]
    [InlineData("g: {bit: 0, bits: 16, checksum: {rule: crc8, over: 3}}", "LC0708")]
    [InlineData("g: {bit: 0, bits: 32, checksum: {rule: crc32, over: 4..7}}", "")]
    [InlineData("g: {bit: 0, bits: 5, checksum: {rule: sum, over: 1}}", "")] // modulo the width
    [InlineData("g: {bit: 0, bits: 17, checksum: {rule: sum, over: 3}}", "LC0708")]
    [InlineData("g: {bit: 0, bits: 9, checksum: {rule: xor, over: 3}}", "LC0708")]
    [InlineData("g: {bit: 0, bits: 5, checksum: {rule: nibble-xor, over: 3}}", "LC0708")]
    public void Counters_and_checksums_fit_their_fields(string fields, string codes) => Assert.Equal(codes, Check(fields));

    [Fact]
    public void A_shared_counter_that_no_field_carries_is_named() =>
        Assert.Equal("LC0704", Descriptions.Ids(Descriptions.Check(Descriptions.Module("counters: {c: {to: 3}}\nframes: {F: {id: 1, length: 1, every: 1 s}}"))));

    private static string Check(string fields) => Descriptions.Ids(Descriptions.Check(Descriptions.Fields(fields)));
}
