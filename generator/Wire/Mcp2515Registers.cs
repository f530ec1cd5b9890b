namespace Locum.Wire;

/// <summary>
/// The configuration registers of an MCP2515-class SPI controller (field positions from memory of the data
/// sheet). A quantum is 2 * BRP / crystal. Bits of CNF3 outside PHSEG2 are left 0.
/// </summary>
/// <param name="Cnf1">SJW - 1 in bits 7..6, BRP - 1 in bits 5..0.</param>
/// <param name="Cnf2">BTLMODE in bit 7, SAM in bit 6, PHSEG1 - 1 in bits 5..3, PRSEG - 1 in bits 2..0.</param>
/// <param name="Cnf3">PHSEG2 - 1 in bits 2..0.</param>
public readonly record struct Mcp2515Registers(byte Cnf1, byte Cnf2, byte Cnf3)
{
    private const byte BtlMode = 0x80;

    /// <summary>Propagation segment in quanta, 1..8.</summary>
    public int Propagation => (Cnf2 & 7) + 1;

    /// <summary>Phase segment 1 in quanta, 1..8.</summary>
    public int PhaseSegment1 => ((Cnf2 >> 3) & 7) + 1;

    /// <summary>Phase segment 2 in quanta. Without BTLMODE the controller takes phase segment 1, but at least 2.</summary>
    public int PhaseSegment2 => (Cnf2 & BtlMode) != 0 ? (Cnf3 & 7) + 1 : Math.Max(PhaseSegment1, 2);

    /// <summary>The limits with a crystal: PROP + PS1 is not below PS2, PS2 is 2..8 and above the jump width.</summary>
    /// <param name="crystalHz">For example 8 000 000 or 16 000 000.</param>
    public static BitTimingLimits Limits(long crystalHz) => new()
    {
        ClockHz = crystalHz / 2,
        BrpMax = 64,
        Tseg1Min = 2,
        Tseg1Max = 16,
        Tseg2Min = 2,
        Tseg2Max = 8,
        SjwMax = 4,
        Split = new PhaseSplit(1, 8, 1, 8),
        Tseg1NotBelowTseg2 = true,
        SjwBelowTseg2 = true,
    };

    /// <summary>The registers for a timing, with one sample per bit and phase segment 2 set by CNF3.</summary>
    /// <exception cref="ArgumentException">The controller cannot hold the timing.</exception>
    public static Mcp2515Registers Encode(BitTiming timing)
    {
        var limits = Limits(2 * timing.ClockHz);
        if (!limits.Allows(timing))
            throw new ArgumentException($"An MCP2515 cannot hold {timing}.", nameof(timing));

        var (propagation, phase1) = limits.Split!.Divide(timing.Tseg1, timing.Tseg2);
        return new Mcp2515Registers(
            (byte)(((timing.Sjw - 1) << 6) | (timing.Brp - 1)),
            (byte)(BtlMode | ((phase1 - 1) << 3) | (propagation - 1)),
            (byte)(timing.Tseg2 - 1));
    }

    /// <summary>The timing these registers make, be it within the controller's rules or not.</summary>
    /// <param name="crystalHz">For example 8 000 000 or 16 000 000.</param>
    public BitTiming Decode(long crystalHz) => new(
        crystalHz / 2, (Cnf1 & 0x3F) + 1, Propagation + PhaseSegment1, PhaseSegment2, (Cnf1 >> 6) + 1);
}
