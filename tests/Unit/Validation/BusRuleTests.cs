using Xunit;

namespace Locum.Tests.Unit.Validation;

/// <summary>
/// Worst-case lengths after Davis, Burns, Bril, Lukkien, "Controller Area Network (CAN) schedulability analysis:
/// Refuted, revisited and revised" (2007), from memory: 55 + 10n bits for 11-bit and 80 + 10n bits for 29-bit
/// identifiers, intermission included. Load = sum of length / (rate × period).
/// </summary>
public class BusRuleTests
{
    // 8 bytes, 11 bits: 135 bits; at 500 kbit/s 270 µs.
    [Theory]
    [InlineData("id: 1, length: 8, every: 270 us", "100 %", "LC0305")]
    [InlineData("id: 1, length: 8, every: 360 us", "75 %", "LC0305")]
    [InlineData("id: 1, length: 8, every: 385 us", "70.1 %", "LC0305")] // 270 / 385 = 0.7013
    [InlineData("id: 1, length: 8, every: 386 us", "", "")] // 270 / 386 = 0.6995
    // 8 bytes, 29 bits: 160 bits, 320 µs.
    [InlineData("id: 0x800, length: 8, every: 400 us", "80 %", "LC0305")]
    // No data, 11 bits: 55 bits, 110 µs.
    [InlineData("id: 1, length: 0, every: 125 us", "88 %", "LC0305")]
    public void Load_is_the_worst_case_time_over_the_period(string frame, string load, string codes)
    {
        var found = Descriptions.Check(Descriptions.Module($"frames: {{F: {{{frame}}}}}"));

        Assert.Equal(codes, Descriptions.Ids(found));
        Assert.All(found, d => Assert.Contains($" {load} ", d.Message));
    }

    // 270 µs / 500 µs + 270 µs / 500 µs = 108 %.
    [Fact]
    public void More_than_the_bus_has_is_an_error()
    {
        var found = Descriptions.Check(Descriptions.Module("frames: {F: {id: 1, length: 8, every: 500 us}, G: {id: 2, length: 8, every: 500 us}}"));

        Assert.Equal("LC0304", Descriptions.Ids(found));
        Assert.Contains(" 108 % ", found[0].Message);
    }

    [Fact]
    public void Load_is_counted_mode_by_mode() =>
        Assert.Empty(Descriptions.Check(Descriptions.Module(
            "modes: {x: {for: 1 s, then: y}, y: {for: 1 s, then: x}}\nframes: {F: {id: 1, length: 8, every: 500 us, in: x}, G: {id: 2, length: 8, every: 500 us, in: y}}")));

    [Theory]
    [InlineData("269 us", "LC0304 LC0505")]
    [InlineData("270 us", "LC0305")]
    public void A_period_is_not_shorter_than_its_frame(string every, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Check(Descriptions.Module($"frames: {{F: {{id: 1, length: 8, every: {every}}}}}"))));

    [Theory]
    [InlineData("20 ms", "")]
    [InlineData("20.001 ms", "LC0506")]
    public void An_offset_beyond_the_period_is_noted(string offset, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Check(Descriptions.Module($"frames: {{F: {{id: 1, length: 8, every: 20 ms, offset: {offset}}}}}"))));

    [Theory]
    [InlineData("{id: 5, length: 1, every: 1 s}", "LC0502")]
    [InlineData("{id: 5, id kind: 29 bit, length: 1, every: 1 s}", "")]
    [InlineData("{id: 6, length: 1, every: 1 s}", "")]
    public void Identifiers_are_unique_on_a_bus(string second, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Check(Descriptions.Module($"frames: {{F: {{id: 5, length: 1, every: 1 s}}, G: {second}}}"))));

    [Fact]
    public void The_same_identifier_on_two_buses_is_no_clash_and_a_bus_without_frames_is_named()
    {
        string Text(string second) => $"locum: 1\nmodule: m\nhazard: none\nbuses: {{a: {{rate: 500 kbit/s}}, b: {{rate: 500 kbit/s}}}}\nframes: {{F: {{bus: a, id: 5, length: 1, every: 1 s}}, G: {{bus: {second}}}}}";

        Assert.Empty(Descriptions.Check(Text("b, id: 5, length: 1, every: 1 s")));
        Assert.Equal("LC0303", Descriptions.Ids(Descriptions.Check(Text("a, id: 6, length: 1, every: 1 s"))));
    }
}
