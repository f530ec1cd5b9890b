namespace Locum.Wire;

/// <summary>The baud rate register of SAM3X and older controllers of that family (data sheet, "CAN Baudrate Register", from memory; limits as in the open-source driver at91_can).</summary>
public static class Sam3xCanRegisters
{
    /// <summary>The limits with a master clock. A prescaler of 1 is not allowed.</summary>
    /// <param name="masterClockHz">For example 84 000 000.</param>
    public static BitTimingLimits Limits(long masterClockHz) => new()
    {
        ClockHz = masterClockHz,
        BrpMin = 2,
        BrpMax = 128,
        Tseg1Min = 4,
        Tseg1Max = 16,
        Tseg2Min = 2,
        Tseg2Max = 8,
        SjwMax = 4,
        Split = new PhaseSplit(1, 8, 1, 8),
    };

    /// <summary>CAN_BR: PHASE2 - 1 in bits 2..0, PHASE1 - 1 in 6..4, PROPAG - 1 in 10..8, SJW - 1 in 13..12, BRP - 1 in 22..16; one sample (bit 24 is 0).</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static uint Encode(BitTiming timing)
    {
        var limits = Limits(timing.ClockHz);
        limits.MustAllow(timing, "A SAM3X CAN controller");
        var (propagation, phase1) = limits.Split!.Divide(timing.Tseg1, timing.Tseg2);
        return (uint)(timing.Tseg2 - 1) | ((uint)(phase1 - 1) << 4) | ((uint)(propagation - 1) << 8)
            | ((uint)(timing.Sjw - 1) << 12) | ((uint)(timing.Brp - 1) << 16);
    }

    /// <summary>The timing a register value makes.</summary>
    public static BitTiming Decode(uint br, long masterClockHz) => new(
        masterClockHz,
        (int)(br >> 16 & 0x7F) + 1,
        (int)(br >> 8 & 7) + 1 + (int)(br >> 4 & 7) + 1,
        (int)(br & 7) + 1,
        (int)(br >> 12 & 3) + 1);
}
