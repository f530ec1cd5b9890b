namespace Locum.Wire;

/// <summary>
/// The bit-timing register of STM32 controllers of the bxCAN kind (field positions from memory of the
/// reference manual).
/// </summary>
public static class BxCanRegisters
{
    private const int Tseg1Shift = 16;
    private const int Tseg2Shift = 20;
    private const int SjwShift = 24;

    /// <summary>The limits with a clock of the APB1 bus.</summary>
    /// <param name="apb1Hz">For example 36 000 000.</param>
    public static BitTimingLimits Limits(long apb1Hz) => new()
    {
        ClockHz = apb1Hz,
        BrpMax = 1024,
        Tseg1Max = 16,
        Tseg2Max = 8,
        SjwMax = 4,
    };

    /// <summary>BTR: BRP - 1 in bits 9..0, TS1 - 1 in bits 19..16, TS2 - 1 in bits 22..20, SJW - 1 in bits 25..24.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static uint Encode(BitTiming timing)
    {
        if (!Limits(timing.ClockHz).Allows(timing))
            throw new ArgumentException($"A bxCAN controller cannot hold {timing}.", nameof(timing));
        return (uint)(timing.Brp - 1)
            | ((uint)(timing.Tseg1 - 1) << Tseg1Shift)
            | ((uint)(timing.Tseg2 - 1) << Tseg2Shift)
            | ((uint)(timing.Sjw - 1) << SjwShift);
    }

    /// <summary>The timing a register value makes; mode bits 31..30 are ignored.</summary>
    /// <param name="btr">Register value.</param>
    /// <param name="apb1Hz">For example 36 000 000.</param>
    public static BitTiming Decode(uint btr, long apb1Hz) => new(
        apb1Hz,
        (int)(btr & 0x3FF) + 1,
        (int)((btr >> Tseg1Shift) & 0xF) + 1,
        (int)((btr >> Tseg2Shift) & 7) + 1,
        (int)((btr >> SjwShift) & 3) + 1);
}
