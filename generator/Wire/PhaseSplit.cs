namespace Locum.Wire;

/// <summary>Limits of a controller with separate fields for the propagation segment and phase segment 1.</summary>
/// <param name="PropagationMin">Smallest propagation segment, quanta.</param>
/// <param name="PropagationMax">Largest propagation segment, quanta.</param>
/// <param name="Phase1Min">Smallest phase segment 1, quanta.</param>
/// <param name="Phase1Max">Largest phase segment 1, quanta.</param>
public sealed record PhaseSplit(int PropagationMin, int PropagationMax, int Phase1Min, int Phase1Max)
{
    /// <summary>True when <paramref name="tseg1"/> can be made of both parts.</summary>
    public bool CanDivide(int tseg1) =>
        tseg1 >= PropagationMin + Phase1Min && tseg1 <= PropagationMax + Phase1Max;

    /// <summary>
    /// The parts of <paramref name="tseg1"/>. Phase segment 1 comes as near to phase segment 2 as the limits
    /// allow, so that a resynchronisation has the same room on both sides; the rest is propagation.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">See <see cref="CanDivide"/>.</exception>
    public (int Propagation, int PhaseSegment1) Divide(int tseg1, int tseg2)
    {
        if (!CanDivide(tseg1))
            throw new ArgumentOutOfRangeException(nameof(tseg1), tseg1, "Too short or too long for the two parts.");

        int least = Math.Max(Phase1Min, tseg1 - PropagationMax);
        int most = Math.Min(Phase1Max, tseg1 - PropagationMin);
        int phase1 = Math.Clamp(tseg2, least, most);
        return (tseg1 - phase1, phase1);
    }
}
