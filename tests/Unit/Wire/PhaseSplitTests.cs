using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class PhaseSplitTests
{
    private static readonly PhaseSplit s_split = new(1, 8, 1, 8);

    [Theory]
    [InlineData(13, 2, 8, 5)] // propagation is full, phase segment 1 takes the rest
    [InlineData(8, 3, 5, 3)] // equal phase segments
    [InlineData(3, 3, 1, 2)] // propagation keeps its least quantum
    [InlineData(16, 8, 8, 8)]
    public void Phase_segment_1_comes_as_near_to_phase_segment_2_as_possible(int tseg1, int tseg2, int propagation, int phase1) =>
        Assert.Equal((propagation, phase1), s_split.Divide(tseg1, tseg2));

    [Theory]
    [InlineData(1)]
    [InlineData(17)]
    public void Refuses_what_the_two_parts_cannot_make(int tseg1)
    {
        Assert.False(s_split.CanDivide(tseg1));
        Assert.Throws<ArgumentOutOfRangeException>(() => s_split.Divide(tseg1, 2));
    }
}
