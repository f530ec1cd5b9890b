namespace Locum.Wire;

/// <summary>The bit-timing registers of MCP2518FD-class SPI controllers (data sheet, from memory; limits as in the open-source driver mcp251xfd).</summary>
public static class Mcp2518FdRegisters
{
    private const uint MeasuredDelay = 2u << 16;

    /// <summary>TDCO is signed with 7 bits, and the second sample point's place has 7 bits.</summary>
    public static CompensationLimits Compensation { get; } = new(63, 127);

    /// <summary>Arbitration phase.</summary>
    /// <param name="clockHz">System clock behind PLL and divider: 20 000 000 or 40 000 000.</param>
    public static BitTimingLimits Limits(long clockHz) => new()
    {
        ClockHz = clockHz,
        BrpMax = 256,
        Tseg1Min = 2,
        Tseg1Max = 256,
        Tseg2Min = 1,
        Tseg2Max = 128,
        SjwMax = 128,
        QuantaMax = 385,
    };

    /// <summary>Data phase.</summary>
    public static BitTimingLimits DataLimits(long clockHz) => new()
    {
        ClockHz = clockHz,
        BrpMax = 256,
        Tseg1Min = 1,
        Tseg1Max = 32,
        Tseg2Min = 1,
        Tseg2Max = 16,
        SjwMax = 16,
        QuantaMin = 5,
        QuantaMax = 49,
    };

    /// <summary>CiNBTCFG: BRP in bits 31..24, TSEG1 in 23..16, TSEG2 in 14..8, SJW in 6..0, each less 1.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static uint Encode(BitTiming timing)
    {
        Limits(timing.ClockHz).MustAllow(timing, "An MCP2518FD");
        return Word(timing);
    }

    /// <summary>CiDBTCFG: BRP in bits 31..24, TSEG1 in 20..16, TSEG2 in 11..8, SJW in 3..0, each less 1.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static uint EncodeData(BitTiming timing)
    {
        DataLimits(timing.ClockHz).MustAllow(timing, "The data phase of an MCP2518FD");
        return Word(timing);
    }

    /// <summary>CiTDC: mode "automatic" (2) in bits 17..16, TDCO in bits 14..8; 0 switches the compensation off.</summary>
    public static uint EncodeCompensation(DelayCompensation? compensation) => compensation is null ? 0 : MeasuredDelay | ((uint)compensation.Offset << 8);

    /// <summary>The timing that CiNBTCFG or CiDBTCFG makes.</summary>
    public static BitTiming Decode(uint word, long clockHz) => new(
        clockHz, (int)(word >> 24) + 1, (int)(word >> 16 & 0xFF) + 1, (int)(word >> 8 & 0x7F) + 1, (int)(word & 0x7F) + 1);

    private static uint Word(BitTiming timing) =>
        ((uint)(timing.Brp - 1) << 24) | ((uint)(timing.Tseg1 - 1) << 16) | ((uint)(timing.Tseg2 - 1) << 8) | (uint)(timing.Sjw - 1);
}
