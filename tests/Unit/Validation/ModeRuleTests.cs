using Xunit;

namespace Locum.Tests.Unit.Validation;

public class ModeRuleTests
{
    private const string Inputs = "inputs: {a: {active: high}, b: {active: high}}\n";
    private const string Frames = "\nframes: {F: {id: 1, length: 1, every: 1 s}}";

    [Theory]
    [InlineData("x: {until: {a: active, then: y}}, y: {until: {a: inactive, then: x}}", "")]
    [InlineData("x: {until: {a: active, then: y}}, y: {until: {a: active, then: x}}", "LC0403")]
    [InlineData("x: {until: {a: active, then: y}}, y: {until: {b: active, then: x}}", "LC0403")]
    [InlineData("x: {until: {a: active, b: active, then: y}}, y: {until: {a: active, b: inactive, then: x}}", "")]
    // Three modes in a ring; every step is right by itself.
    [InlineData("x: {until: {a: active, then: y}}, y: {until: {b: active, then: z}}, z: {until: {a: active, then: x}}", "LC0403")]
    // The first way out decides: with a active, x always leaves to z, so the way back to y is never taken together.
    [InlineData("x: {until: [{a: active, then: z}, {b: active, then: y}]}, y: {until: {b: active, a: active, then: x}}, z: ", "")]
    // A stay ends by time, so time passes.
    [InlineData("x: {until: {a: active, then: y}}, y: {for: 1 ms, then: x}", "")]
    public void Modes_that_chase_each_other_are_found_for_every_combination_of_inputs(string modes, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Check(Descriptions.Module($"{Inputs}modes: {{{modes}}}{Frames}"))));

    [Fact]
    public void A_chase_names_the_levels_and_the_modes_in_order()
    {
        var finding = Assert.Single(Descriptions.Check(Descriptions.Module(
            $"{Inputs}modes: {{start: {{until: {{a: active, then: x}}}}, x: {{until: {{b: active, then: y}}}}, y: {{until: {{a: active, then: x}}}}}}{Frames}")));

        Assert.Equal("with a active, b active the modes chase each other: 'x' → 'y' → 'x'", finding.Message);
    }

    [Fact]
    public void Two_chases_are_two_findings() =>
        Assert.Equal("LC0403 LC0403", Descriptions.Ids(Descriptions.Check(Descriptions.Module(
            $"{Inputs}modes: {{u: {{for: 1 s, then: x, until: {{a: active, then: v}}}}, v: {{until: {{a: active, then: u}}}}, x: {{until: {{b: active, then: y}}}}, y: {{until: {{b: active, then: x}}}}}}{Frames}"))));

    [Fact]
    public void All_combinations_of_the_most_inputs_and_modes_are_looked_at_quickly()
    {
        var inputs = string.Join(", ", Enumerable.Range(0, 16).Select(i => $"i{i}: {{active: high}}"));
        var modes = string.Join(", ", Enumerable.Range(0, 32).Select(m => $"m{m}: {{until: [{string.Join(", ", Enumerable.Range(0, 16).Select(i => $"{{i{i}: active, i{(i + 1) % 16}: inactive, then: m{(m + i + 1) % 32}}}"))}]}}"));
        var watch = System.Diagnostics.Stopwatch.StartNew();

        Assert.Contains(Descriptions.Check(Descriptions.Module($"inputs: {{{inputs}}}\nmodes: {{{modes}}}{Frames}")), d => d.Code.Id is "LC0403");
        Assert.InRange(watch.Elapsed.TotalSeconds, 0, 20);
    }

    [Theory]
    [InlineData("x: , y: ", "LC0402")]
    [InlineData("x: {for: 1 s, then: y}, y: ", "")]
    [InlineData("x: {until: {a: active, then: y}}, y: , z: {for: 1 s, then: x}", "LC0402")]
    [InlineData("x: , y: {for: 1 s, then: z}, z: {for: 1 s, then: y}", "LC0402 LC0402")] // they lead to each other only
    public void Modes_that_no_way_leads_to_are_named(string modes, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Check(Descriptions.Module($"{Inputs}modes: {{{modes}}}{Frames}"))));

    [Fact]
    public void A_frame_of_dead_modes_is_never_sent() =>
        Assert.Equal("LC0402 LC0507", Descriptions.Ids(Descriptions.Check(Descriptions.Module("modes: {x: , y: }\nframes: {F: {id: 1, length: 1, every: 1 s, in: y}, G: {id: 2, length: 1, every: 1 s}}"))));
}
