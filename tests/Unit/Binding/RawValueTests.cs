using Locum.Model;
using Xunit;

namespace Locum.Tests.Unit.Binding;

/// <summary>Physical → raw: raw = (physical − offset) / scale, in two's complement of the field's width.</summary>
public class RawValueTests
{
    [Theory]
    [InlineData("bits: 8, value: 255", 0xFFUL)]
    [InlineData("bits: 8, signed: yes, value: -1", 0xFFUL)]
    [InlineData("bits: 4, signed: yes, value: -8", 0x8UL)]
    [InlineData("bits: 12, signed: yes, value: -1", 0xFFFUL)]
    [InlineData("bits: 8, scale: 0.5, offset: -40, value: 21.0", 122UL)]
    [InlineData("bits: 8, scale: -1, offset: 100, value: 30", 70UL)]
    [InlineData("bits: 16, signed: yes, scale: 0.1, value: -39.9", 0xFE71UL)] // -399
    [InlineData("bits: 64, value: 0xFFFFFFFFFFFFFFFF", 0xFFFF_FFFF_FFFF_FFFFUL)]
    [InlineData("bits: 64, value: 18446744073709551615", 0xFFFF_FFFF_FFFF_FFFFUL)]
    [InlineData("bits: 64, signed: yes, value: -9223372036854775808", 0x8000_0000_0000_0000UL)]
    [InlineData("bits: 64, signed: yes, value: -1", 0xFFFF_FFFF_FFFF_FFFFUL)]
    [InlineData("bits: 63, value: 9223372036854775807", 0x7FFF_FFFF_FFFF_FFFFUL)]
    [InlineData("bits: 3, names: {on: 4}, value: on", 4UL)]
    [InlineData("bits: 3, signed: yes, names: {low: -4}, value: low", 4UL)]
    [InlineData("bits: 8, scale: 10, names: {on: 4}, value: on", 4UL)] // names are raw values
    public void A_value_becomes_its_raw_bits(string field, ulong raw)
    {
        var (module, found) = Descriptions.Bind(Descriptions.Fields($"f: {{bit: 0, {field}}}"));

        Assert.Empty(found);
        Assert.Equal(new FixedValue(raw), module.Frames[0].Fields[0].Source);
    }

    // Halves go away from zero, as people round.
    [Theory]
    [InlineData("scale: 0.5, value: 1.3", 3UL, "1.5")]
    [InlineData("scale: 0.5, value: 1.25", 3UL, "1.5")]
    [InlineData("scale: 2, value: 7", 4UL, "8")]
    [InlineData("signed: yes, scale: 2, value: -7", 0xFCUL, "-8")]
    [InlineData("value: 0.4", 0UL, "0")]
    public void What_the_scale_cannot_express_is_rounded_with_a_warning(string field, ulong raw, string sent)
    {
        var (module, found) = Descriptions.Bind(Descriptions.Fields($"f: {{bit: 0, bits: 8, {field}}}"));

        Assert.Equal("LC0604", Descriptions.Ids(found));
        Assert.Contains($"; {sent} will be sent", found[0].Message + " ");
        Assert.Equal(new FixedValue(raw), module.Frames[0].Fields[0].Source);
    }

    [Theory]
    [InlineData("bits: 8, value: 256", "(0 to 255)")]
    [InlineData("bits: 8, value: -1", "(0 to 255)")]
    [InlineData("bits: 8, signed: yes, value: 128", "(-128 to 127)")]
    [InlineData("bits: 8, signed: yes, value: -129", "(-128 to 127)")]
    [InlineData("bits: 1, value: 2", "(0 to 1)")]
    [InlineData("bits: 64, value: 18446744073709551616", "(0 to 18446744073709551615)")]
    [InlineData("bits: 64, signed: yes, value: 9223372036854775808", "(-9223372036854775808 to 9223372036854775807)")]
    [InlineData("bits: 8, scale: 0.5, offset: -40, unit: degC, value: 90", "(-40 to 87.5 degC)")]
    [InlineData("bits: 8, scale: 1e-20, value: 79228162514264337593543950335", "far outside")]
    public void What_does_not_fit_is_refused_with_the_range(string field, string range)
    {
        var (module, found) = Descriptions.Bind(Descriptions.Fields($"f: {{bit: 0, {field}}}"));

        Assert.Equal("LC0603", Descriptions.Ids(found));
        Assert.Contains(range, found[0].Message.Replace(".0 ", " "));
        Assert.Null(module.Frames[0].Fields[0].Source);
    }

    [Theory]
    [InlineData("names: {bad: -100}, value: bad")]
    [InlineData("names: {bad: 8}, value: bad")]
    public void A_named_value_that_does_not_fit_is_reported_once(string field) =>
        Assert.Equal("LC0603", Descriptions.Ids(Descriptions.Bind(Descriptions.Fields($"f: {{bit: 0, bits: 3, {field}}}")).Found));

    [Fact]
    public void Values_by_mode_take_other_for_the_rest()
    {
        var (module, found) = Descriptions.Bind(Descriptions.Module(
            "modes: {a: {for: 1 s, then: b}, b: {for: 1 s, then: c}, c: {for: 1 s, then: a}}\n"
            + "frames: {F: {id: 1, length: 1, every: 1 s, fields: {f: {bit: 0, bits: 8, value: {b: 7, other: 1}}}}}"));

        Assert.Empty(found);
        var value = Assert.IsType<ModeValue>(module.Frames[0].Fields[0].Source);
        Assert.Equal([1UL, 7UL, 1UL], new[] { 0, 1, 2 }.Select(m => value.Raw[m]));
    }
}
