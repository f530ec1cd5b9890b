namespace Locum.Wire;

/// <summary>What a controller's bit-timing registers can hold. All ranges are inclusive, in real values, not fields.</summary>
public sealed record BitTimingLimits
{
    /// <summary>Clock of the bit timing in front of the prescaler, Hz.</summary>
    public required long ClockHz { get; init; }

    /// <summary>Smallest prescaler.</summary>
    public int BrpMin { get; init; } = 1;

    /// <summary>Largest prescaler.</summary>
    public required int BrpMax { get; init; }

    /// <summary>Distance of the possible prescalers, counted from <see cref="BrpMin"/>.</summary>
    public int BrpStep { get; init; } = 1;

    /// <summary>Smallest propagation + phase segment 1.</summary>
    public int Tseg1Min { get; init; } = 1;

    /// <summary>Largest propagation + phase segment 1.</summary>
    public required int Tseg1Max { get; init; }

    /// <summary>Smallest phase segment 2.</summary>
    public int Tseg2Min { get; init; } = 1;

    /// <summary>Largest phase segment 2.</summary>
    public required int Tseg2Max { get; init; }

    /// <summary>Largest resynchronisation jump width.</summary>
    public required int SjwMax { get; init; }

    /// <summary>Smallest number of quanta per bit; ISO 11898-1 asks for 8 (from memory).</summary>
    public int QuantaMin { get; init; } = 8;

    /// <summary>Largest number of quanta per bit; 25 suffices for ISO 11898-1 (from memory).</summary>
    public int QuantaMax { get; init; } = 25;

    /// <summary>How the controller divides <c>Tseg1</c>; null when it has one field for both parts.</summary>
    public PhaseSplit? Split { get; init; }

    /// <summary>True when <c>Tseg1</c> must not be shorter than <c>Tseg2</c>.</summary>
    public bool Tseg1NotBelowTseg2 { get; init; }

    /// <summary>True when <c>Tseg2</c> must be longer than the jump width.</summary>
    public bool SjwBelowTseg2 { get; init; }

    /// <summary>True when a controller with these limits can hold the timing.</summary>
    public bool Allows(BitTiming timing) =>
        timing.ClockHz == ClockHz
        && timing.Brp >= BrpMin && timing.Brp <= BrpMax && (timing.Brp - BrpMin) % BrpStep == 0
        && timing.Quanta >= QuantaMin && timing.Quanta <= QuantaMax
        && AllowsSegments(timing.Tseg1, timing.Tseg2)
        && timing.Sjw >= 1 && timing.Sjw <= LargestSjw(timing.Tseg1, timing.Tseg2);

    /// <summary>Refuses a timing that a controller with these limits cannot hold.</summary>
    /// <exception cref="ArgumentException">It cannot.</exception>
    internal void MustAllow(BitTiming timing, string controller)
    {
        if (!Allows(timing))
            throw new ArgumentException($"{controller} cannot hold {timing}.", nameof(timing));
    }

    /// <summary>The part of <paramref name="tseg1"/> that serves as phase segment 1, quanta; the rest is propagation.</summary>
    public int PhaseSegment1(int tseg1, int tseg2) => Split is { } split ? split.Divide(tseg1, tseg2).PhaseSegment1 : Math.Clamp(tseg2, 1, Math.Max(1, tseg1 - 1));

    internal bool AllowsSegments(int tseg1, int tseg2) =>
        tseg1 >= Tseg1Min && tseg1 <= Tseg1Max
        && tseg2 >= Tseg2Min && tseg2 <= Tseg2Max
        && (!Tseg1NotBelowTseg2 || tseg1 >= tseg2)
        && (Split is null || Split.CanDivide(tseg1))
        && LargestSjw(tseg1, tseg2) >= 1;

    // The jump width may exceed neither phase segment (ISO 11898-1, from memory).
    internal int LargestSjw(int tseg1, int tseg2)
    {
        int phase1 = Split is null ? tseg1 : Split.Divide(tseg1, tseg2).PhaseSegment1;
        int phase2 = SjwBelowTseg2 ? tseg2 - 1 : tseg2;
        return Math.Min(SjwMax, Math.Min(phase1, phase2));
    }
}
