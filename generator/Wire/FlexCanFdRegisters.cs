namespace Locum.Wire;

/// <summary>
/// The bit-timing registers of FlexCAN controllers with CAN FD (positions compared with the vendor's PERI_CAN.h; limits as in the
/// open-source driver flexcan, which keeps to the smaller jump widths).
/// </summary>
public static class FlexCanFdRegisters
{
    private const uint ExtendedFormat = 1u << 31;
    private const uint CompensationOn = 1u << 15;

    /// <summary>TDCOFF has 5 bits; the sum of measured delay and offset has 6.</summary>
    public static CompensationLimits Compensation { get; } = new(31, 63);

    /// <summary>Arbitration phase.</summary>
    /// <param name="clockHz">Protocol engine clock, for example 40 000 000.</param>
    public static BitTimingLimits Limits(long clockHz) => new()
    {
        ClockHz = clockHz,
        BrpMax = 1024,
        Tseg1Min = 2,
        Tseg1Max = 96,
        Tseg2Min = 2,
        Tseg2Max = 32,
        SjwMax = 16,
        QuantaMax = 129,
        Split = new PhaseSplit(1, 64, 1, 32),
    };

    /// <summary>Data phase. The propagation segment may be 0 quanta.</summary>
    public static BitTimingLimits DataLimits(long clockHz) => new()
    {
        ClockHz = clockHz,
        BrpMax = 1024,
        Tseg1Min = 2,
        Tseg1Max = 39,
        Tseg2Min = 2,
        Tseg2Max = 8,
        SjwMax = 4,
        QuantaMin = 5,
        QuantaMax = 48,
        Split = new PhaseSplit(0, 31, 1, 8),
    };

    /// <summary>CBT: format bit 31, EPRESDIV in bits 30..21, ERJW in 20..16, EPROPSEG in 15..10, EPSEG1 in 9..5, EPSEG2 in 4..0, each less 1.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static uint Encode(BitTiming timing)
    {
        var limits = Limits(timing.ClockHz);
        limits.MustAllow(timing, "A FlexCAN FD controller");
        var (propagation, phase1) = limits.Split!.Divide(timing.Tseg1, timing.Tseg2);
        return ExtendedFormat | ((uint)(timing.Brp - 1) << 21) | ((uint)(timing.Sjw - 1) << 16) | ((uint)(propagation - 1) << 10)
            | ((uint)(phase1 - 1) << 5) | (uint)(timing.Tseg2 - 1);
    }

    /// <summary>FDCBT: FPRESDIV in bits 29..20, FRJW in 18..16, FPSEG1 in 7..5, FPSEG2 in 2..0, each less 1; FPROPSEG in 14..10 as it is.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static uint EncodeData(BitTiming timing)
    {
        var limits = DataLimits(timing.ClockHz);
        limits.MustAllow(timing, "The data phase of a FlexCAN FD controller");
        var (propagation, phase1) = limits.Split!.Divide(timing.Tseg1, timing.Tseg2);
        return ((uint)(timing.Brp - 1) << 20) | ((uint)(timing.Sjw - 1) << 16) | ((uint)propagation << 10) | ((uint)(phase1 - 1) << 5) | (uint)(timing.Tseg2 - 1);
    }

    /// <summary>The compensation's part of FDCTRL: TDCEN in bit 15, TDCOFF in bits 12..8.</summary>
    public static uint EncodeCompensation(DelayCompensation? compensation) => compensation is null ? 0 : CompensationOn | ((uint)compensation.Offset << 8);

    /// <summary>The timing that CBT makes.</summary>
    public static BitTiming Decode(uint cbt, long clockHz) => new(
        clockHz,
        (int)(cbt >> 21 & 0x3FF) + 1,
        (int)(cbt >> 10 & 0x3F) + 1 + (int)(cbt >> 5 & 0x1F) + 1,
        (int)(cbt & 0x1F) + 1,
        (int)(cbt >> 16 & 0x1F) + 1);

    /// <summary>The timing that FDCBT makes.</summary>
    public static BitTiming DecodeData(uint fdcbt, long clockHz) => new(
        clockHz,
        (int)(fdcbt >> 20 & 0x3FF) + 1,
        (int)(fdcbt >> 10 & 0x1F) + (int)(fdcbt >> 5 & 7) + 1,
        (int)(fdcbt & 7) + 1,
        (int)(fdcbt >> 16 & 7) + 1);
}
