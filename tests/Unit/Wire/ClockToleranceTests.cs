using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class ClockToleranceTests
{
    // Source: Hartwich and Bassemir, "The Configuration of the CAN Bit Timing" (also in manuals of controllers, read):
    // PROP 1, PS1 = PS2 = SJW = 4 allow the largest possible tolerance, 1.58 %.
    [Fact]
    public void The_largest_tolerance_of_classic_can()
    {
        var conditions = ClockTolerance.Classic(new BitTiming(1_250_000, 1, 5, 4, 4), Mcp2515Registers.Limits(2_500_000));

        Assert.Equal(20_000, conditions[0].Ppm, 1e-6);
        Assert.Equal(4e6 / 252, conditions[1].Ppm, 1e-6);
        Assert.InRange(ClockTolerance.Allowed(conditions), 15_800, 15_900);
    }

    // A single field for propagation and phase segment 1 is divided as a pair of fields would be.
    [Fact]
    public void One_field_counts_as_if_it_were_divided() =>
        Assert.Equal(
            ClockTolerance.Classic(new BitTiming(8_000_000, 1, 13, 2, 2), Mcp2515Registers.Limits(16_000_000)).Select(c => c.Ppm),
            ClockTolerance.Classic(new BitTiming(8_000_000, 1, 13, 2, 2), BxCanRegisters.Limits(8_000_000)).Select(c => c.Ppm));

    // Formulas from memory of Hartwich 2013; recomputed by hand: 40 MHz, 500 kbit/s and 2 Mbit/s, both at 80 %.
    [Fact]
    public void The_five_conditions_of_can_fd()
    {
        var conditions = ClockTolerance.Fd(new BitTiming(40_000_000, 1, 63, 16, 16), FdCanRegisters.Limits(40_000_000), new BitTiming(40_000_000, 1, 15, 4, 4));

        Assert.Equal([10_000, 16e6 / 2048, 10_000, 16e6 / 1352, 4e6 / 456], conditions.Select(c => c.Ppm), (a, b) => Math.Abs(a - b) < 1e-6);
    }

    // With a longer quantum in the arbitration phase the switch may come up to that much late: 3 - (2 - 1) = 2 of the jump width are left.
    [Fact]
    public void Different_prescalers_cost_tolerance_at_the_switch()
    {
        var conditions = ClockTolerance.Fd(new BitTiming(40_000_000, 2, 31, 8, 8), FdCanRegisters.Limits(40_000_000), new BitTiming(40_000_000, 1, 15, 4, 3));

        Assert.Equal(2e6 / (2 * ((72 * 2) + 4 + 80)), conditions[4].Ppm, 1e-6);
    }

    // ISO 11898-1 (from memory): compensation with a prescaler of 1 or 2 only; the second sample point mirrors the first.
    [Fact]
    public void Compensation_mirrors_the_sample_point()
    {
        Assert.Equal(32, DelayCompensation.For(new BitTiming(80_000_000, 2, 15, 4, 4), 2_000_000, FdCanRegisters.Compensation)?.Offset);
        Assert.Null(DelayCompensation.For(new BitTiming(80_000_000, 4, 7, 2, 2), 2_000_000, FdCanRegisters.Compensation));
        Assert.Null(DelayCompensation.For(new BitTiming(40_000_000, 1, 29, 10, 10), 1_000_000, FdCanRegisters.Compensation));
        // TDCOFF of FlexCAN ends at 31.
        Assert.Equal(31, DelayCompensation.For(new BitTiming(80_000_000, 1, 31, 8, 4), 2_000_000, FlexCanFdRegisters.Compensation)?.Offset);
    }

    [Theory]
    [InlineData(1, 29, 10, false)] // 750 ns
    [InlineData(1, 5, 2, true)] // 150 ns
    [InlineData(1, 9, 4, true)] // 250 ns
    [InlineData(1, 10, 4, false)] // 275 ns
    public void Compensation_is_needed_when_the_bit_comes_back_behind_its_sample_point(int brp, int tseg1, int tseg2, bool needed) =>
        Assert.Equal(needed, DelayCompensation.IsNeeded(new BitTiming(40_000_000, brp, tseg1, tseg2, 1)));
}
