using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class Mcp2515RegistersTests
{
    // Source: values commonly shipped with libraries for this controller, from memory; rates and sample points
    // recomputed. The first row breaks the data sheet's rule PS2 >= 2.
    [Theory]
    [InlineData(8, 0x00, 0x80, 0x80, 1_000_000, 1, 1, 1, 750.0, 1)]
    [InlineData(8, 0x00, 0x90, 0x82, 500_000, 1, 3, 3, 625.0, 1)]
    [InlineData(8, 0x00, 0xB1, 0x85, 250_000, 2, 7, 6, 625.0, 1)]
    [InlineData(8, 0x01, 0xB1, 0x85, 125_000, 2, 7, 6, 625.0, 1)]
    [InlineData(16, 0x00, 0xD0, 0x82, 1_000_000, 1, 3, 3, 625.0, 1)]
    [InlineData(16, 0x00, 0xF0, 0x86, 500_000, 1, 7, 7, 562.5, 1)]
    [InlineData(16, 0x41, 0xF1, 0x85, 250_000, 2, 7, 6, 625.0, 2)]
    [InlineData(16, 0x03, 0xF0, 0x86, 125_000, 1, 7, 7, 562.5, 1)]
    public void Customary_register_values_tell_rate_segments_and_sample_point(
        int crystalMhz, byte cnf1, byte cnf2, byte cnf3, long rate, int propagation, int phase1, int phase2, double samplePoint, int sjw)
    {
        var registers = new Mcp2515Registers(cnf1, cnf2, cnf3);
        var timing = registers.Decode(crystalMhz * 1_000_000L);

        Assert.True(timing.IsExact(rate));
        Assert.Equal((propagation, phase1, phase2), (registers.Propagation, registers.PhaseSegment1, registers.PhaseSegment2));
        Assert.Equal((propagation + phase1, phase2, sjw), (timing.Tseg1, timing.Tseg2, timing.Sjw));
        Assert.Equal(samplePoint, timing.SamplePointPermille);
    }

    [Fact]
    public void Without_btlmode_phase_segment_2_follows_phase_segment_1()
    {
        Assert.Equal(4, new Mcp2515Registers(0, 0x18, 0x07).PhaseSegment2);
        Assert.Equal(2, new Mcp2515Registers(0, 0x00, 0x07).PhaseSegment2);
    }

    // The data sheet's rules, from memory: PROP + PS1 >= PS2, PS2 >= 2, PS2 > SJW; SJW <= PS1 (ISO 11898-1).
    [Fact]
    public void Solved_timings_keep_the_rules_of_the_data_sheet() =>
        Gen.Select(
            Gen.OneOf(8_000_000L, 16_000_000, 20_000_000),
            Gen.OneOf(10_000L, 20_000, 50_000, 100_000, 125_000, 250_000, 500_000, 1_000_000),
            Gen.Int[500, 900]).Sample((crystal, rate, samplePoint) =>
        {
            var timing = BitTimingSolver.Solve(Mcp2515Registers.Limits(crystal), rate, samplePoint);
            if (crystal == 8_000_000 && rate == 1_000_000)
            {
                Assert.Null(timing); // four quanta are too few
                return;
            }

            Assert.NotNull(timing);
            var registers = Mcp2515Registers.Encode(timing);
            Assert.Equal(0x80, registers.Cnf2 & 0x80);
            Assert.InRange(registers.PhaseSegment2, Math.Max(2, timing.Sjw + 1), timing.Tseg1);
            Assert.InRange(timing.Sjw, 1, registers.PhaseSegment1);
            Assert.Equal(timing, registers.Decode(crystal));
            Assert.True(timing.IsExact(rate));
        });

    // 16 MHz, 500 kbit/s, 87.5 %: 16 quanta of 125 ns, sampled behind the 14th; propagation 8, PS1 5, PS2 2.
    [Fact]
    public void Encodes_the_common_case()
    {
        var timing = BitTimingSolver.Solve(Mcp2515Registers.Limits(16_000_000), 500_000, 875);

        Assert.Equal(new BitTiming(8_000_000, 1, 13, 2, 1), timing);
        Assert.Equal(new Mcp2515Registers(0x00, 0xA7, 0x01), Mcp2515Registers.Encode(timing!));
    }

    [Fact]
    public void Refuses_a_jump_width_that_reaches_phase_segment_2() =>
        Assert.Throws<ArgumentException>(() => Mcp2515Registers.Encode(new BitTiming(8_000_000, 1, 13, 2, 2)));
}
