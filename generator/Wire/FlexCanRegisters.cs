namespace Locum.Wire;

/// <summary>The control register 1 of FlexCAN controllers (reference manuals, from memory; limits as in the open-source driver flexcan).</summary>
public static class FlexCanRegisters
{
    /// <summary>The limits with a protocol engine clock.</summary>
    /// <param name="clockHz">For example 24 000 000, 40 000 000 or 60 000 000.</param>
    public static BitTimingLimits Limits(long clockHz) => new()
    {
        ClockHz = clockHz,
        BrpMax = 256,
        Tseg1Min = 4,
        Tseg1Max = 16,
        Tseg2Min = 2,
        Tseg2Max = 8,
        SjwMax = 4,
        Split = new PhaseSplit(1, 8, 1, 8),
    };

    /// <summary>CTRL1: PRESDIV in bits 31..24, RJW in 23..22, PSEG1 in 21..19, PSEG2 in 18..16, PROPSEG in 2..0, each less 1; all else is 0.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static uint Encode(BitTiming timing)
    {
        var limits = Limits(timing.ClockHz);
        limits.MustAllow(timing, "A FlexCAN controller");
        var (propagation, phase1) = limits.Split!.Divide(timing.Tseg1, timing.Tseg2);
        return ((uint)(timing.Brp - 1) << 24) | ((uint)(timing.Sjw - 1) << 22) | ((uint)(phase1 - 1) << 19)
            | ((uint)(timing.Tseg2 - 1) << 16) | (uint)(propagation - 1);
    }

    /// <summary>The timing a register value makes.</summary>
    public static BitTiming Decode(uint ctrl1, long clockHz) => new(
        clockHz,
        (int)(ctrl1 >> 24) + 1,
        (int)(ctrl1 & 7) + 1 + (int)(ctrl1 >> 19 & 7) + 1,
        (int)(ctrl1 >> 16 & 7) + 1,
        (int)(ctrl1 >> 22 & 3) + 1);
}
