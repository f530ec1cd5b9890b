namespace Locum.Auditing;

/// <summary>How exact a capture's times are, and what counts as right in spite of it. Microseconds.</summary>
/// <param name="StepUs">The capture's time step.</param>
/// <param name="StampErrorUs">How far times are wrong at least, as frames seem to follow each other faster than a bus can send them.</param>
/// <param name="SteadiestUs">Jitter of the steadiest of the other nodes' identifiers; 0 when there are too few.</param>
/// <param name="LostShare">Share of the other nodes' cyclic frames that are missing, as if the logger lost them.</param>
public sealed record Tolerance(long StepUs, long StampErrorUs, long SteadiestUs, double LostShare)
{
    /// <summary>From a release to the offer of the frame on a real board; the boards' worst stated figure.</summary>
    public const long BoardUs = 300;

    /// <summary>From a reception to payloads and modes that show it.</summary>
    public const long ReactionUs = 2_000;

    /// <summary>Share of a period by which a frame may be early or late: common practice, no source.</summary>
    public const double PeriodShare = 0.10;

    /// <summary>Share by which the mean period may be off: twice what a ceramic resonator loses, from memory.</summary>
    public const double ClockShare = 0.02;

    /// <summary>A single time may be wrong by this.</summary>
    public long StampUs => Math.Max(StepUs, Math.Max(StampErrorUs, SteadiestUs));

    /// <summary>Two times may be wrong against each other by this, beside what a board needs.</summary>
    public long InstantUs => BoardUs + (2 * StampUs);

    /// <summary>How late or early a frame may be.</summary>
    public long LateUs(long periodUs) => Math.Max((long)(PeriodShare * periodUs), InstantUs);

    /// <summary>How far the mean of so many distances may be from the period.</summary>
    public double PeriodUs(long periodUs, int distances) => (ClockShare * periodUs) + ((double)InstantUs / Math.Max(1, distances));

    /// <summary>How much earlier than described something may be lost or end.</summary>
    public long EarlyUs(long timeUs) => InstantUs + (long)(ClockShare * timeUs);
}
