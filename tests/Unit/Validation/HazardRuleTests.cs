using Xunit;

namespace Locum.Tests.Unit.Validation;

public class HazardRuleTests
{
    [Theory]
    [InlineData("none", "")]
    [InlineData("none\nacknowledge: why", "LC0803")]
    [InlineData("braking", "LC0802")]
    [InlineData("restraint", "LC0802")]
    [InlineData("steering", "LC0802")]
    [InlineData("traction", "LC0802")]
    [InlineData("high-voltage", "LC0802")]
    [InlineData("braking\nacknowledge: ''", "LC0802")]
    [InlineData("braking\nacknowledge: '   '", "LC0802")]
    [InlineData("braking\nacknowledge: the workshop lead, on blocks", "")]
    [InlineData("Braking", "LC0801")]
    public void Harm_needs_a_reason_in_the_description(string hazard, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Check($"locum: 1\nmodule: m\nhazard: {hazard}\nbuses: {{b: {{rate: 500 kbit/s}}}}\nframes: {{F: {{id: 1, length: 1, every: 1 s}}}}")));
}
