namespace Locum.Wire;

/// <summary>
/// The bit-timing registers of ESP32-family controllers (technical reference manual, from memory): the layout of the
/// stand-alone controllers, with even prescalers only.
/// </summary>
/// <param name="Timing0">BUS_TIMING_0: BRP / 2 - 1 from bit 0, SJW - 1 in the two bits behind it.</param>
/// <param name="Timing1">BUS_TIMING_1: TSEG1 - 1 in bits 3..0, TSEG2 - 1 in bits 6..4, triple sampling in bit 7 (0).</param>
public readonly record struct TwaiRegisters(uint Timing0, uint Timing1)
{
    // The first chip has 6 bits of prescaler; those since then have 13 or more, but need no more for CAN's rates.
    private const int PrescalerBits = 6;

    /// <summary>The limits of the first chip, which later ones meet as well.</summary>
    /// <param name="clockHz">APB clock: 80 000 000 (40 000 000 on some later chips).</param>
    public static BitTimingLimits Limits(long clockHz) => new()
    {
        ClockHz = clockHz,
        BrpMin = 2,
        BrpMax = 128,
        BrpStep = 2,
        Tseg1Max = 16,
        Tseg2Max = 8,
        SjwMax = 4,
    };

    /// <summary>The registers of the first chip.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static TwaiRegisters Encode(BitTiming timing) => Encode(timing, PrescalerBits);

    /// <summary>The registers of a chip with this many bits of prescaler in BUS_TIMING_0: 6, 13 or 14.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static TwaiRegisters Encode(BitTiming timing, int prescalerBits)
    {
        Limits(timing.ClockHz).MustAllow(timing, "A TWAI controller");
        return new TwaiRegisters(
            (uint)((timing.Brp / 2) - 1) | ((uint)(timing.Sjw - 1) << prescalerBits),
            (uint)(timing.Tseg1 - 1) | ((uint)(timing.Tseg2 - 1) << 4));
    }

    /// <summary>The timing these registers make on the first chip.</summary>
    public BitTiming Decode(long clockHz) => new(
        clockHz, 2 * ((int)(Timing0 & 0x3F) + 1), (int)(Timing1 & 0xF) + 1, (int)(Timing1 >> 4 & 7) + 1, (int)(Timing0 >> PrescalerBits & 3) + 1);
}
