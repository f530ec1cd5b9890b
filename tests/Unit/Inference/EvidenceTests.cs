using Locum.Inference;
using Xunit;

namespace Locum.Tests.Unit.Inference;

public sealed class EvidenceTests
{
    [Theory]
    [InlineData(100, 100, -6.1, Confidence.Certain)]
    [InlineData(100, 100, -6.0, Confidence.Likely)]
    [InlineData(100, 99, -20, Confidence.Likely)]
    [InlineData(100, 98, -20, Confidence.Possible)]
    [InlineData(100, 100, -3.0, Confidence.Possible)]
    [InlineData(0, 0, 0, Confidence.Possible)]
    public void One_contradiction_or_a_probable_chance_hit_is_not_certain(int tested, int hits, double log10, Confidence expected) =>
        Assert.Equal(expected, new Evidence(tested, hits, hits, log10).Confidence);
}
