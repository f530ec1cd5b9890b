using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class BxCanRegistersTests
{
    // Source: field positions from memory of the reference manual; the values closest to 87.5 % computed with a
    // separate script. No published table was read. All rows have SJW 1.
    [Theory]
    [InlineData(36, 125, 0x001C0011u, 875.0)]
    [InlineData(36, 250, 0x001C0008u, 875.0)]
    [InlineData(36, 500, 0x00050008u, 875.0)]
    [InlineData(36, 1000, 0x001E0001u, 888.9)]
    [InlineData(42, 125, 0x001C0014u, 875.0)]
    [InlineData(42, 250, 0x00050014u, 875.0)]
    [InlineData(42, 500, 0x001A0005u, 857.1)]
    [InlineData(42, 1000, 0x001A0002u, 857.1)]
    [InlineData(45, 125, 0x0005002Cu, 875.0)]
    [InlineData(45, 250, 0x001B000Bu, 866.7)]
    [InlineData(45, 500, 0x001B0005u, 866.7)]
    [InlineData(45, 1000, 0x001B0002u, 866.7)]
    public void The_solver_finds_the_timing_closest_to_875(int apb1Mhz, int kbit, uint btr, double samplePoint)
    {
        var timing = BitTimingSolver.Solve(BxCanRegisters.Limits(apb1Mhz * 1_000_000L), kbit * 1000L, 875);

        Assert.NotNull(timing);
        Assert.True(timing.IsExact(kbit * 1000L));
        Assert.Equal(samplePoint, timing.SamplePointPermille, 0.05);
        Assert.Equal(btr, BxCanRegisters.Encode(timing with { Sjw = 1 }));
    }

    // The other choices of the same table decode to the same rates.
    [Theory]
    [InlineData(36, 0x001E0003u, 500_000, 888.9)]
    [InlineData(42, 0x001A000Bu, 250_000, 857.1)]
    [InlineData(45, 0x001B0017u, 125_000, 866.7)]
    [InlineData(36, 0xC01C0008u, 250_000, 875.0)]
    public void A_register_value_tells_rate_and_sample_point(int apb1Mhz, uint btr, long rate, double samplePoint)
    {
        var timing = BxCanRegisters.Decode(btr, apb1Mhz * 1_000_000L);

        Assert.True(timing.IsExact(rate));
        Assert.Equal(samplePoint, timing.SamplePointPermille, 0.05);
        Assert.Equal(1, timing.Sjw);
    }

    [Fact]
    public void Decoding_undoes_encoding() =>
        Gen.Select(Gen.Int[1, 1024], Gen.Int[1, 16], Gen.Int[1, 8], Gen.Int[1, 4])
            .Select((brp, tseg1, tseg2, sjw) => new BitTiming(42_000_000, brp, tseg1, tseg2, sjw))
            .Where(timing => BxCanRegisters.Limits(42_000_000).Allows(timing))
            .Sample(timing => Assert.Equal(timing, BxCanRegisters.Decode(BxCanRegisters.Encode(timing), 42_000_000)));

    [Fact]
    public void Refuses_a_timing_that_does_not_fit() =>
        Assert.Throws<ArgumentException>(() => BxCanRegisters.Encode(new BitTiming(36_000_000, 1025, 13, 2, 1)));
}
