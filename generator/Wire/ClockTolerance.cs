namespace Locum.Wire;

/// <summary>
/// How far the clock of every node of a network may be off (ISO 11898-1; Hartwich and Bassemir, "The Configuration of
/// the CAN Bit Timing", 1999, for classic CAN; Hartwich, "The Configuration of the CAN FD Bit Timing", 2013, for
/// CAN FD, conditions from memory). All times are counted in quanta of their phase.
/// </summary>
public static class ClockTolerance
{
    private const double Million = 1e6;

    /// <summary>The two conditions of classic CAN.</summary>
    /// <param name="timing">The bit.</param>
    /// <param name="limits">The controller, for its way of dividing the bit.</param>
    public static IReadOnlyList<ToleranceCondition> Classic(BitTiming timing, BitTimingLimits limits) =>
    [
        new("resynchronisation between edges 10 bits apart", "SJW / (20 tbit)", Million * timing.Sjw / (20.0 * timing.Quanta)),
        new("sampling 13 bits behind the edge in front of an error flag", "min(PS1, PS2) / (2 (13 tbit - PS2))", Million * Phase(timing, limits) / (2.0 * ((13 * timing.Quanta) - timing.Tseg2))),
    ];

    /// <summary>The five conditions of CAN FD with switched bit rates.</summary>
    /// <param name="nominal">Bit of the arbitration phase.</param>
    /// <param name="nominalLimits">The controller's limits in that phase.</param>
    /// <param name="data">Bit of the data phase.</param>
    public static IReadOnlyList<ToleranceCondition> Fd(BitTiming nominal, BitTimingLimits nominalLimits, BitTiming data)
    {
        var ratio = (double)nominal.Brp / data.Brp;
        var phase = Phase(nominal, nominalLimits);
        return
        [
            .. Classic(nominal, nominalLimits),
            new("resynchronisation in the data phase", "SJW_D / (20 tbit_D)", Million * data.Sjw / (20.0 * data.Quanta)),
            new("from the last edge of the data phase to the error flag", "min(PS1, PS2) / (2 ((6 tbit_D - PS2_D) BRP_D/BRP + 7 tbit))",
                Million * phase / (2 * ((((6 * data.Quanta) - data.Tseg2) / ratio) + (7 * nominal.Quanta)))),
            new("switch to the data rate", "(SJW_D - max(0, BRP/BRP_D - 1)) / (2 ((2 tbit - PS2) BRP/BRP_D + PS2_D + 4 tbit_D))",
                Million * Math.Max(0, data.Sjw - Math.Max(0, ratio - 1)) / (2 * ((((2 * nominal.Quanta) - nominal.Tseg2) * ratio) + data.Tseg2 + (4 * data.Quanta)))),
        ];
    }

    /// <summary>What all conditions leave, ppm in either direction.</summary>
    public static double Allowed(IEnumerable<ToleranceCondition> conditions) => conditions.Min(c => c.Ppm);

    // Where one register holds propagation and phase segment 1, that much of it serves as phase segment 1 as phase
    // segment 2 has; the rest is left to propagation, at least one quantum.
    private static int Phase(BitTiming timing, BitTimingLimits limits) =>
        Math.Min(limits.PhaseSegment1(timing.Tseg1, timing.Tseg2), timing.Tseg2);
}
