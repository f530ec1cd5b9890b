using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public sealed class TwaiSettingsTests
{
    // The driver's public header: 500 kbit/s and 1 Mbit/s with brp 8 and 4, tseg_1 15, tseg_2 4 from 80 MHz.
    [Theory]
    [InlineData(500_000, 8)]
    [InlineData(1_000_000, 4)]
    [InlineData(250_000, 16)]
    [InlineData(125_000, 32)]
    public void Settings_of_the_header_are_allowed_and_found(int rate, int brp)
    {
        var limits = TwaiRegisters.Limits(80_000_000);
        var header = new BitTiming(80_000_000, brp, 15, 4, 3);
        Assert.Equal(rate, header.Rate);
        Assert.True(limits.Allows(header));
        Assert.False(limits.Allows(header with { Brp = brp + 1 }));
        var found = BitTimingSolver.Solve(limits, rate, 800)!;
        Assert.Equal((brp, 15, 4), (found.Brp, found.Tseg1, found.Tseg2));
    }

    // Single filter mode of the programming guide.
    [Fact]
    public void Filters_pass_what_is_listened_to()
    {
        Assert.Equal((uint.MaxValue, 0u), TwaiSettings.Filter([]));
        Assert.Equal((0x2D1u << 21, 0x001FFFFFu), TwaiSettings.Filter([IdPattern.Only(new CanId(0x2D1, false))]));
        Assert.Equal((0x18FF1234u << 3, 0x7u), TwaiSettings.Filter([IdPattern.Only(new CanId(0x18FF1234, true))]));
        Assert.Equal((0x2D0u << 21, (0x3u << 21) | 0x001FFFFFu), TwaiSettings.Filter([IdPattern.Only(new CanId(0x2D1, false)), IdPattern.Only(new CanId(0x2D2, false))]));
        // 0x600 in 11 bits and 0x18000000 in 29 have the same upper bits.
        Assert.Equal((0x600u << 21, 0x001FFFFFu), TwaiSettings.Filter([IdPattern.Only(new CanId(0x600, false)), IdPattern.Only(new CanId(0x18000000, true))]));
    }
}
