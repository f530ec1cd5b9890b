using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class FdCanRegistersTests
{
    private const long Kernel = 80_000_000;

    // A clock of 80 MHz, 500 kbit/s at 80 % and 2 Mbit/s at 75 % with a prescaler of 1: 160 quanta and 40. Computed by hand from
    // the fields of RM0440 (from memory).
    [Fact]
    public void A_bus_has_these_registers()
    {
        var both = FdDataTiming.Solve(Kernel, 500_000, 800, 2_000_000, 750);
        Assert.NotNull(both);
        Assert.Equal(new BitTiming(Kernel, 1, 127, 32, 32), both.Nominal);
        Assert.Equal(new BitTiming(Kernel, 1, 29, 10, 10), both.Data);
        Assert.Equal((31u << 25) | (126u << 8) | 31u, FdCanRegisters.EncodeNominal(both.Nominal));
        Assert.Equal((1u << 23) | (28u << 8) | (9u << 4) | 9u, FdCanRegisters.EncodeData(both.Data));
        Assert.Equal(30u << 8, FdCanRegisters.EncodeCompensation(both.Data));
    }

    [Theory]
    [InlineData(80, 125, 1000)]
    [InlineData(80, 250, 2000)]
    [InlineData(80, 500, 5000)]
    [InlineData(80, 1000, 8000)]
    [InlineData(40, 125, 1000)]
    [InlineData(40, 500, 2000)]
    [InlineData(40, 500, 5000)]
    [InlineData(40, 1000, 8000)]
    public void Usual_rates_are_exact_with_one_prescaler_and_compensated(int mhz, int kbit, int dataKbit)
    {
        var both = FdDataTiming.Solve(mhz * 1_000_000L, kbit * 1000, 800, dataKbit * 1000, 750);
        Assert.NotNull(both);
        Assert.True(both.Nominal.IsExact(kbit * 1000L) && both.Data.IsExact(dataKbit * 1000L));
        Assert.Equal(both.Nominal.Brp, both.Data.Brp);
        Assert.True(FdCanRegisters.IsCompensated(both.Data));
        Assert.Equal(both.Data.Sjw, both.Data.Tseg2);
        var offset = FdCanRegisters.EncodeCompensation(both.Data) >> 8;
        Assert.InRange(offset, 1u, (uint)(both.Data.Quanta * both.Data.Brp) - 1);
    }

    // 125 kbit/s is 320 quanta of 25 ns, 100 kbit/s 400: more than a bit may have.
    [Fact]
    public void A_slow_bus_gets_a_larger_prescaler() =>
        Assert.Equal(2, FdDataTiming.Solve(40_000_000, 100_000, 800, 1_000_000, 750)!.Nominal.Brp);

    [Theory]
    [InlineData(500_000, 7_777_777)]
    [InlineData(500_000, 12_000_000)]
    public void Rates_that_cannot_be_made_are_told(int rate, int dataRate) => Assert.Null(FdDataTiming.Solve(40_000_000, rate, 800, dataRate, 750));

    [Fact]
    public void What_does_not_fit_the_fields_is_refused()
    {
        Assert.Throws<ArgumentException>(() => FdCanRegisters.EncodeNominal(new BitTiming(Kernel, 1, 257, 32, 1)));
        Assert.Throws<ArgumentException>(() => FdCanRegisters.EncodeNominal(new BitTiming(Kernel, 513, 13, 2, 1)));
        Assert.Throws<ArgumentException>(() => FdCanRegisters.EncodeData(new BitTiming(Kernel, 33, 13, 2, 1)));
        Assert.Throws<ArgumentException>(() => FdCanRegisters.EncodeData(new BitTiming(Kernel, 1, 33, 2, 1)));
        Assert.Equal(0u, FdCanRegisters.EncodeCompensation(new BitTiming(Kernel, 4, 13, 2, 1)));
    }
}
