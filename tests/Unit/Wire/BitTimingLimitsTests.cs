using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class BitTimingLimitsTests
{
    private const long Clock = 80_000_000;

    // An invented controller whose every limit can be hit alone.
    private static readonly BitTimingLimits s_limits = new()
    {
        ClockHz = Clock,
        BrpMin = 2,
        BrpMax = 128,
        BrpStep = 2,
        Tseg1Min = 4,
        Tseg1Max = 16,
        Tseg2Min = 2,
        Tseg2Max = 8,
        SjwMax = 3,
        QuantaMin = 9,
        QuantaMax = 22,
    };

    [Theory]
    [InlineData(2, 13, 2, 2)]
    [InlineData(128, 4, 4, 3)]
    [InlineData(4, 13, 8, 3)]
    public void Allows_what_lies_inside(int brp, int tseg1, int tseg2, int sjw) =>
        Assert.True(s_limits.Allows(new BitTiming(Clock, brp, tseg1, tseg2, sjw)));

    [Theory]
    [InlineData(0, 13, 2, 2)] // prescaler too small
    [InlineData(130, 13, 2, 2)] // prescaler too large
    [InlineData(3, 13, 2, 2)] // prescaler between two steps
    [InlineData(2, 3, 6, 2)] // segment 1 too short
    [InlineData(2, 17, 2, 2)] // segment 1 too long
    [InlineData(2, 13, 1, 1)] // segment 2 too short
    [InlineData(2, 10, 9, 2)] // segment 2 too long
    [InlineData(2, 5, 2, 1)] // too few quanta
    [InlineData(2, 16, 6, 2)] // too many quanta
    [InlineData(2, 13, 2, 0)] // no jump width
    [InlineData(2, 13, 2, 3)] // jump width above segment 2
    [InlineData(2, 13, 5, 4)] // jump width above its own limit
    public void Refuses_what_lies_outside(int brp, int tseg1, int tseg2, int sjw) =>
        Assert.False(s_limits.Allows(new BitTiming(Clock, brp, tseg1, tseg2, sjw)));

    [Fact]
    public void Refuses_another_clock() =>
        Assert.False(s_limits.Allows(new BitTiming(Clock / 2, 2, 13, 2, 2)));
}
