using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public sealed class Sam3xTests
{
    // Field positions of CAN_BR: the vendor's public header of the component.
    [Fact]
    public void Bit_timing_lies_where_the_header_says()
    {
        var timing = new BitTiming(84_000_000, 12, 11, 2, 1);
        Assert.Equal(500_000, timing.Rate);
        var br = Sam3xCanRegisters.Encode(timing);
        Assert.Equal(11u, br >> 16);
        Assert.Equal(0u, (br >> 12) & 3);
        Assert.Equal(11u, ((br >> 8) & 7) + ((br >> 4) & 7) + 2);
        Assert.Equal(1u, br & 7);
        Assert.Equal(timing, Sam3xCanRegisters.Decode(br, 84_000_000));
    }

    [Theory]
    [InlineData(125_000)]
    [InlineData(250_000)]
    [InlineData(500_000)]
    [InlineData(1_000_000)]
    public void Usual_rates_are_made_exactly_and_never_without_a_prescaler(int rate)
    {
        var timing = BitTimingSolver.Solve(Sam3xCanRegisters.Limits(84_000_000), rate, 875)!;
        Assert.True(timing.IsExact(rate));
        Assert.True(timing.Brp >= 2);
        Assert.Equal(timing, Sam3xCanRegisters.Decode(Sam3xCanRegisters.Encode(timing), 84_000_000));
        Assert.Throws<ArgumentException>(() => Sam3xCanRegisters.Encode(timing with { Brp = 1 }));
    }

    [Fact]
    public void Chains_pass_what_is_listened_to()
    {
        var standard = new IdPattern(new CanId(0x120, false), 0x7FF);
        var neighbour = new IdPattern(new CanId(0x122, false), 0x7FF);
        var extended = new IdPattern(new CanId(0x18FF1234, true), 0x1FFFFFFF);
        Assert.All(Sam3xMailboxes.For([]), b => Assert.Equal(0u, b.Mask));

        var one = Sam3xMailboxes.For([standard]);
        Assert.Equal(Sam3xMailboxes.Count, one.Count);
        Assert.All(one, b => Assert.Equal((0x120u << 18, 0x20000000u | 0x7FFu << 18), (b.Id, b.Mask)));
        Assert.Equal([false, false, false, false, true], one.Select(b => b.Last));

        var both = Sam3xMailboxes.For([standard, extended, neighbour]);
        Assert.Equal([false, false, true, false, true], both.Select(b => b.Last));
        Assert.Equal((0x120u << 18, 0x20000000u | 0x7FDu << 18), (both[0].Id, both[0].Mask));
        Assert.Equal((0x20000000u | 0x18FF1234, 0x3FFFFFFFu), (both[3].Id, both[3].Mask));
    }
}
