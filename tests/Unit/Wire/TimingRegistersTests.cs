using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

/// <summary>Register words of the controllers' bit timing. Field positions are from memory of the manuals; the values behind them are recomputed.</summary>
public class TimingRegistersTests
{
    // Source: bit time configuration example of Microchip's CAN FD protocol module (its online manual, read): 80 MHz,
    // 500 kbit/s and 2 Mbit/s at 80 %: 127/32/32 quanta, same prescaler in both phases. Data phase recomputed.
    [Fact]
    public void The_published_example_at_80_MHz()
    {
        var choice = TimingSolver.Solve(TimingController.Find("mcp2518fd")!, 80_000_000, new TimingRequest(500_000, 800, 2_000_000, 800));

        Assert.Equal(new BitTiming(80_000_000, 1, 127, 32, 32), choice?.Nominal);
        Assert.Equal(new BitTiming(80_000_000, 1, 31, 8, 8), choice?.Data);
        Assert.Equal(32, choice?.Compensation?.Offset);
    }

    // Source: the same example at 40 MHz (NTSEG2 and NSJW of 16 quanta, 1 + DTSEG1 as offset, automatic mode).
    [Fact]
    public void The_published_example_at_40_MHz()
    {
        var controller = TimingController.Find("mcp2518fd")!;
        var choice = TimingSolver.Solve(controller, 40_000_000, new TimingRequest(500_000, 800, 2_000_000, 800));

        Assert.NotNull(choice);
        Assert.Equal(
            [new RegisterWord("CiNBTCFG", 0x003E0F0F, 32), new RegisterWord("CiDBTCFG", 0x000E0303, 32), new RegisterWord("CiTDC", 0x00021000, 32)],
            controller.Encode(choice));
    }

    // From memory of M_CAN's manual; words recomputed with a separate script.
    [Theory]
    [InlineData(20, 500, 800, 0x0E001E07u)]
    [InlineData(40, 500, 800, 0x1E003E0Fu)]
    [InlineData(80, 500, 800, 0x3E007E1Fu)]
    public void Nominal_phase_of_fdcan(int mhz, int kbit, int samplePoint, uint nbtp)
    {
        var choice = TimingSolver.Solve(TimingController.Find("fdcan")!, mhz * 1_000_000L, new TimingRequest(kbit * 1000L, samplePoint));

        Assert.NotNull(choice);
        Assert.Equal(nbtp, FdCanRegisters.Encode(choice.Nominal));
        Assert.Equal(choice.Nominal, FdCanRegisters.Decode(nbtp, mhz * 1_000_000L));
    }

    [Theory]
    [InlineData(20, 2, 800, 0x00800611u)]
    [InlineData(40, 2, 800, 0x00800E33u)]
    [InlineData(40, 2, 750, 0x00800D44u)]
    [InlineData(40, 5, 750, 0x00800411u)]
    [InlineData(80, 5, 750, 0x00800A33u)]
    public void Data_phase_of_fdcan(int mhz, int mbit, int samplePoint, uint dbtp)
    {
        var choice = TimingSolver.Solve(TimingController.Find("fdcan")!, mhz * 1_000_000L, new TimingRequest(500_000, 800, mbit * 1_000_000L, samplePoint));

        Assert.NotNull(choice);
        Assert.Equal(dbtp, FdCanRegisters.EncodeData(choice.Data!, choice.Compensation));
        Assert.Equal(choice.Data, FdCanRegisters.DecodeData(dbtp, mhz * 1_000_000L));
    }

    // Both reset values of M_CAN make 500 kbit/s at 75 % from 8 MHz (manual, from memory; recomputed).
    [Fact]
    public void Reset_values_of_fdcan()
    {
        Assert.Equal((500_000.0, 750.0), (FdCanRegisters.Decode(0x06000A03, 8_000_000).Rate, FdCanRegisters.Decode(0x06000A03, 8_000_000).SamplePointPermille));
        Assert.Equal((500_000.0, 750.0), (FdCanRegisters.DecodeData(0x00000A33, 8_000_000).Rate, FdCanRegisters.DecodeData(0x00000A33, 8_000_000).SamplePointPermille));
    }

    // Timings that the chip maker's drivers publish for 80 MHz (read in open source: brp 8, 15/4 quanta for 500 kbit/s).
    [Theory]
    [InlineData(8, 15, 4, 3, 0x83u, 0x3Eu, 500_000)]
    [InlineData(16, 15, 4, 3, 0x87u, 0x3Eu, 250_000)]
    [InlineData(32, 15, 4, 3, 0x8Fu, 0x3Eu, 125_000)]
    [InlineData(4, 15, 4, 3, 0x81u, 0x3Eu, 1_000_000)]
    public void Customary_timings_of_twai(int brp, int tseg1, int tseg2, int sjw, uint timing0, uint timing1, long rate)
    {
        var timing = new BitTiming(80_000_000, brp, tseg1, tseg2, sjw);

        Assert.Equal(new TwaiRegisters(timing0, timing1), TwaiRegisters.Encode(timing));
        Assert.True(timing.IsExact(rate));
        Assert.Equal(timing with { Sjw = 4 }, BitTimingSolver.Solve(TwaiRegisters.Limits(80_000_000), rate, 800));
    }

    // 84 MHz / 12 = 7 MHz: 14 quanta for 500 kbit/s; recomputed by hand.
    [Fact]
    public void Sam3x_at_84_MHz()
    {
        var timing = BitTimingSolver.Solve(Sam3xCanRegisters.Limits(84_000_000), 500_000, 857, preferredQuanta: 14);

        Assert.Equal(new BitTiming(84_000_000, 12, 11, 2, 2), timing);
        // BRP 11, SJW 1, PROPAG 7, PHASE1 2 (3 quanta, 8 are the most for propagation), PHASE2 1.
        Assert.Equal(0x000B1721u, Sam3xCanRegisters.Encode(timing!));
    }

    // 40 MHz / 5 / 16 = 500 kbit/s; recomputed by hand: PRESDIV 4, RJW 1, PSEG1 4, PSEG2 1, PROPSEG 7.
    [Fact]
    public void Flexcan_at_40_MHz()
    {
        var timing = new BitTiming(40_000_000, 5, 13, 2, 2);

        Assert.Equal(0x04610007u, FlexCanRegisters.Encode(timing));
    }

    // 40 MHz, 500 kbit/s and 2 Mbit/s at 80 %; recomputed by hand. CBT: EPRESDIV 0, ERJW 15, EPROPSEG 46, EPSEG1 15,
    // EPSEG2 15; FDCBT: FRJW 3, FPROPSEG 11, FPSEG1 3, FPSEG2 3; offset 16.
    [Fact]
    public void Flexcan_fd_at_40_MHz()
    {
        var controller = TimingController.Find("flexcan-fd")!;
        var choice = TimingSolver.Solve(controller, 40_000_000, new TimingRequest(500_000, 800, 2_000_000, 800));

        Assert.NotNull(choice);
        Assert.Equal(
            [new RegisterWord("CBT", 0x800FB9EF, 32), new RegisterWord("FDCBT", 0x00032C63, 32), new RegisterWord("FDCTRL", 0x9000, 32)],
            controller.Encode(choice));
    }

    [Fact]
    public void Decoding_undoes_encoding() =>
        Gen.Select(Gen.Int[0, s_codecs.Length - 1].Select(i => s_codecs[i]), Gen.Int[1, 64], Gen.Int[1, 256], Gen.Int[1, 128], Gen.Int[1, 128])
            .Select((codec, brp, tseg1, tseg2, sjw) => (codec, Timing: new BitTiming(80_000_000, brp, 1 + (tseg1 % codec.Limits.Tseg1Max), 1 + (tseg2 % codec.Limits.Tseg2Max), 1 + (sjw % codec.Limits.SjwMax))))
            .Where(c => c.codec.Limits.Allows(c.Timing))
            .Sample(c => Assert.Equal(c.Timing, c.codec.Round(c.Timing)));

    [Fact]
    public void Timings_outside_the_limits_are_refused()
    {
        foreach (var (limits, round) in s_codecs)
            Assert.Throws<ArgumentException>(() => round(new BitTiming(80_000_000, limits.BrpMax + 1, 7, 2, 1)));
    }

    private static readonly (BitTimingLimits Limits, Func<BitTiming, BitTiming> Round)[] s_codecs =
    [
        (TwaiRegisters.Limits(80_000_000), t => TwaiRegisters.Encode(t).Decode(80_000_000)),
        (Sam3xCanRegisters.Limits(80_000_000), t => Sam3xCanRegisters.Decode(Sam3xCanRegisters.Encode(t), 80_000_000)),
        (FlexCanRegisters.Limits(80_000_000), t => FlexCanRegisters.Decode(FlexCanRegisters.Encode(t), 80_000_000)),
        (FlexCanFdRegisters.Limits(80_000_000), t => FlexCanFdRegisters.Decode(FlexCanFdRegisters.Encode(t), 80_000_000)),
        (FlexCanFdRegisters.DataLimits(80_000_000), t => FlexCanFdRegisters.DecodeData(FlexCanFdRegisters.EncodeData(t), 80_000_000)),
        (FdCanRegisters.Limits(80_000_000), t => FdCanRegisters.Decode(FdCanRegisters.Encode(t), 80_000_000)),
        (FdCanRegisters.DataLimits(80_000_000), t => FdCanRegisters.DecodeData(FdCanRegisters.EncodeData(t, null), 80_000_000)),
        (Mcp2518FdRegisters.Limits(80_000_000), t => Mcp2518FdRegisters.Decode(Mcp2518FdRegisters.Encode(t), 80_000_000)),
        (Mcp2518FdRegisters.DataLimits(80_000_000), t => Mcp2518FdRegisters.Decode(Mcp2518FdRegisters.EncodeData(t), 80_000_000)),
    ];
}
