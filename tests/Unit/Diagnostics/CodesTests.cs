using Locum.Diagnostics;
using Xunit;

namespace Locum.Tests.Unit.Diagnostics;

public class CodesTests
{
    [Fact]
    public void Numbers_are_unique_and_well_formed()
    {
        Assert.Equal(Codes.All.Count, Codes.All.Select(c => c.Id).Distinct().Count());
        Assert.All(Codes.All, c => Assert.Matches("^LC(0[1-9]|1[0-9])[0-9]{2}$", c.Id));
    }

    [Fact]
    public void Every_kind_has_a_short_title_and_a_help_that_is_a_sentence() =>
        Assert.All(Codes.All, c =>
        {
            Assert.InRange(c.Title.Length, 5, 60);
            Assert.EndsWith(".", c.Help);
        });
}
