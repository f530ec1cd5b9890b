namespace Locum.Wire;

/// <summary>
/// The bit-timing registers of controllers of the M_CAN kind, among them FDCAN of STM32 and the CAN FD controllers of
/// SAM (user's manual of M_CAN, from memory).
/// </summary>
public static class FdCanRegisters
{
    private const uint CompensationOn = 1u << 23;

    /// <summary>TDCO has 7 bits, and so has the sum of measured delay and offset.</summary>
    public static CompensationLimits Compensation { get; } = new(127, 127);

    /// <summary>Arbitration phase.</summary>
    /// <param name="clockHz">Kernel clock, for example 40 000 000 or 80 000 000.</param>
    public static BitTimingLimits Limits(long clockHz) => new()
    {
        ClockHz = clockHz,
        BrpMax = 512,
        Tseg1Min = 2,
        Tseg1Max = 256,
        Tseg2Min = 2,
        Tseg2Max = 128,
        SjwMax = 128,
        QuantaMax = 385,
    };

    /// <summary>Data phase.</summary>
    public static BitTimingLimits DataLimits(long clockHz) => new()
    {
        ClockHz = clockHz,
        BrpMax = 32,
        Tseg1Min = 1,
        Tseg1Max = 32,
        Tseg2Min = 1,
        Tseg2Max = 16,
        SjwMax = 16,
        QuantaMin = 5,
        QuantaMax = 49,
    };

    /// <summary>NBTP: NSJW in bits 31..25, NBRP in 24..16, NTSEG1 in 15..8, NTSEG2 in 6..0, each less 1.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static uint Encode(BitTiming timing)
    {
        Limits(timing.ClockHz).MustAllow(timing, "An M_CAN controller");
        return ((uint)(timing.Sjw - 1) << 25) | ((uint)(timing.Brp - 1) << 16) | ((uint)(timing.Tseg1 - 1) << 8) | (uint)(timing.Tseg2 - 1);
    }

    /// <summary>DBTP: compensation in bit 23, DBRP in bits 20..16, DTSEG1 in 12..8, DTSEG2 in 7..4, DSJW in 3..0, each less 1.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static uint EncodeData(BitTiming timing, DelayCompensation? compensation)
    {
        DataLimits(timing.ClockHz).MustAllow(timing, "The data phase of an M_CAN controller");
        return (compensation is null ? 0 : CompensationOn) | ((uint)(timing.Brp - 1) << 16) | ((uint)(timing.Tseg1 - 1) << 8)
            | ((uint)(timing.Tseg2 - 1) << 4) | (uint)(timing.Sjw - 1);
    }

    /// <summary>TDCR: TDCO in bits 14..8; no filter window.</summary>
    public static uint EncodeCompensation(DelayCompensation? compensation) => (uint)(compensation?.Offset ?? 0) << 8;

    /// <summary>The timing that NBTP makes.</summary>
    public static BitTiming Decode(uint nbtp, long clockHz) => new(
        clockHz, (int)(nbtp >> 16 & 0x1FF) + 1, (int)(nbtp >> 8 & 0xFF) + 1, (int)(nbtp & 0x7F) + 1, (int)(nbtp >> 25) + 1);

    /// <summary>The timing that DBTP makes.</summary>
    public static BitTiming DecodeData(uint dbtp, long clockHz) => new(
        clockHz, (int)(dbtp >> 16 & 0x1F) + 1, (int)(dbtp >> 8 & 0x1F) + 1, (int)(dbtp >> 4 & 0xF) + 1, (int)(dbtp & 0xF) + 1);
}
