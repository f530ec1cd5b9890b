using Locum.Binding;
using Locum.Model;
using Xunit;

namespace Locum.Tests.Unit.Binding;

public class ChecksumBinderTests
{
    [Theory]
    [InlineData("rule: sum", "0 1 2 3 4 5 6")] // every byte but its own
    [InlineData("rule: sum, over: 0..6", "0 1 2 3 4 5 6")]
    [InlineData("rule: sum, over: 3", "3")]
    [InlineData("rule: sum, over: [4..5, 0, 2]", "4 5 0 2")]
    public void The_range_keeps_its_order(string checksum, string bytes) =>
        Assert.Equal(bytes, string.Join(' ', Bind(checksum).Checksum!.Over));

    [Theory]
    [InlineData("rule: sum, over: 0..8", "LC0707")]
    [InlineData("rule: sum, over: -1..3", "LC0707")]
    [InlineData("rule: sum, over: 5..3", "LC0204")]
    [InlineData("rule: sum, over: 1..2..3", "LC0204")]
    [InlineData("rule: sum, over: all", "LC0204")]
    [InlineData("rule: crc8-nothing", "LC0705")]
    [InlineData("rule: {poly: 3}", "LC0705")]
    [InlineData("rule: {crc: 2, poly: 1}", "LC0209")]
    [InlineData("rule: {crc: 33, poly: 1}", "LC0209")]
    [InlineData("rule: {crc: 8, poly: 0x100}", "LC0209")]
    [InlineData("rule: {crc: 8, poly: 0}", "LC0209")]
    [InlineData("rule: {crc: 8}", "LC0203")]
    [InlineData("rule: {sum: words}", "LC0208")]
    [InlineData("rule: {sum: bytes, complement: threes}", "LC0208")]
    [InlineData("rule: [sum]", "LC0204")]
    [InlineData("over: 0", "LC0203")]
    [InlineData("rule: sum, own bits: keep", "LC0208")]
    [InlineData("rule: sum, with: [256]", "LC0208")]
    [InlineData("rule: sum, with: [id lowbyte]", "LC0208")]
    [InlineData("rule: sum, with: {secret: [1, 2]}", "LC0203")] // the frame has no counter
    [InlineData("rule: sum, before: {by: f}", "LC0203 LC0702")]
    public void Rules_that_cannot_be_computed_are_refused(string checksum, string codes) => Assert.Equal(codes, Bind(checksum).Codes);

    [Fact]
    public void A_secret_needs_a_byte_for_every_counter_value()
    {
        var field = "c: {bit: 0, bits: 2, counter: {from: 1}}, g: {bit: 56, bits: 8, checksum: {rule: sum, with: {secret: ";

        Assert.Equal("LC0710", Descriptions.Ids(Descriptions.Bind(Descriptions.Fields(field + "01 02}}}")).Found));
        var (module, found) = Descriptions.Bind(Descriptions.Fields(field + "01 02 03}}}"));
        Assert.Empty(found);
        var secret = Assert.IsType<SecretByte>(Assert.Single(((ChecksumValue)module.Frames[0].Fields[1].Source!).Checksum.With));
        Assert.Equal((0, 1u, 3), (secret.Counter, secret.Lowest, secret.Table.Length));
    }

    [Fact]
    public void A_crc_by_parameters_reads_them_all()
    {
        var rule = Assert.IsType<CrcRule>(Bind("rule: {crc: 8, poly: 0x2F, init: 0xFF, reflect in: yes, reflect out: no, xor out: 0x55}").Checksum!.Rule);

        Assert.Equal((8, 0x2FUL, 0xFFUL, true, false, 0x55UL), (rule.Parameters.Width, rule.Parameters.Poly, rule.Parameters.Init, rule.Parameters.ReflectIn, rule.Parameters.ReflectOut, rule.Parameters.XorOut));
    }

    [Fact]
    public void Every_named_rule_can_be_bound()
    {
        foreach (var name in ChecksumRuleBinder.AllNames)
            Assert.Equal("", Bind($"rule: {name}").Codes);
    }

    private static (Checksum? Checksum, string Codes) Bind(string checksum)
    {
        var (module, found) = Descriptions.Bind(Descriptions.Fields($"f: {{bit: 56, bits: 8, checksum: {{{checksum}}}}}"));
        return ((module.Frames[0].Fields[0].Source as ChecksumValue)?.Checksum, Descriptions.Ids(found));
    }
}
