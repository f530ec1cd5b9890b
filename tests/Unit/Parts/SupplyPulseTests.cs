using Locum.Parts;
using Xunit;

namespace Locum.Tests.Unit.Parts;

public sealed class SupplyPulseTests
{
    // Source resistances and times of ISO 7637-2: the table of transients in makers' sheets of high-side switches; -150 V for
    // pulse 1, 0.5 ohm at least and 35 V for the clamped load dump of ISO 16750-2: published articles on protection of supplies.
    [Theory]
    [InlineData("pulse 1", -150, 10)]
    [InlineData("pulse 2a", 112 + 13.5, 2)]
    [InlineData("pulse 3a", -220, 50)]
    [InlineData("pulse 3b", 150 + 13.5, 50)]
    [InlineData("load dump A", 101, 0.5)]
    [InlineData("load dump B", 35, 0.5)]
    public void Levels_and_sources_are_the_published_ones(string name, double volt, double ohm)
    {
        var pulse = SupplyPulse.All.Single(p => p.Name == name);

        Assert.Equal((volt, ohm), (pulse.PeakV, pulse.SourceOhm));
    }

    // By hand: (101 V - 36 V) / 0.5 ohm.
    [Fact]
    public void A_clamp_takes_what_the_source_can_drive() =>
        Assert.Equal([44.75, 2.55, 130], SupplyPulse.All.Where(p => p.ClampA > 0).Select(p => p.ClampA));
}
