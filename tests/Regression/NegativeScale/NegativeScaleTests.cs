using Locum.Tests.Unit;
using Locum.Tests.Unit.Simulation;
using Xunit;

namespace Locum.Tests.Regression.NegativeScale;

/// <summary>With a negative scale the larger value has the smaller raw one; limits and comparisons took raw values for physical ones, and limits the wrong way round stopped the simulator.</summary>
public sealed class NegativeScaleTests
{
    private const string Traffic = "for: 5500 us\ntraffic: {b: [{id: 0x014, every: 100 ms, offset: 1 ms, data: 01}]}";

    // Raw 1 is 99.
    [Theory]
    [InlineData("at least: 99", "1055 c")]
    [InlineData("at least: 100", "")]
    [InlineData("at least: 98", "1055 c")]
    [InlineData("below: 99", "")]
    [InlineData("below: 100", "1055 c")]
    public void Comparisons_are_about_the_value(string comparison, string modes) =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            receives: {R: {id: 0x014, fields: {f: {bit: 0, bits: 8, scale: -1, offset: 100}}}}
            modes: {a: {until: {R.f: {COMPARISON}, then: c}}, c: {}}
            frames: {A: {id: 0x7FF, length: 0, every: 100 ms, offset: 90 ms}}
            """.Replace("COMPARISON", comparison, StringComparison.Ordinal), Traffic) { Modes = modes }.Holds();

    // 1 with the own scale -1 from 100 on is raw 99.
    [Theory]
    [InlineData("at least: 3", "61")] // 3 is raw 97
    [InlineData("at most: 0.0", "64")] // 0 is raw 100
    [InlineData("at least: 0, at most: 2", "63")]
    public void Limits_are_about_the_value(string limits, string data) =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            receives: {R: {id: 0x014, fields: {f: {bit: 0, bits: 8}}}}
            frames: {A: {id: 0x200, length: 1, every: 100 ms, offset: 5 ms, fields: {v: {bit: 0, bits: 8, scale: -1, offset: 100, follow: {from: R.f, LIMITS}, lost: 0}}}}
            """.Replace("LIMITS", limits, StringComparison.Ordinal), Traffic) { Frames = $"5000 0x200 {data}" }.Holds();

    [Theory]
    [InlineData("", "at least: 2, at most: 1", "LC0209")]
    [InlineData("", "at least: 1, at most: 1", "")]
    [InlineData("scale: -1, offset: 100, ", "at least: 2, at most: 1", "LC0209")]
    [InlineData("scale: -1, offset: 100, ", "at least: 1, at most: 2", "")]
    public void Limits_that_leave_no_value_are_found(string scale, string limits, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Check(Descriptions.Module(
            "receives: {R: {id: 0x014, fields: {f: {bit: 0, bits: 8}}}}\n"
            + $"frames: {{A: {{id: 0x200, length: 1, every: 100 ms, fields: {{v: {{bit: 0, bits: 8, {scale}follow: {{from: R.f, {limits}}}, lost: 0}}}}}}}}"))));
}
