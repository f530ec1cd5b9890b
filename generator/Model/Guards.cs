using Locum.Text;

namespace Locum.Model;

/// <summary>When a board must not send. Null or false: not guarded.</summary>
public sealed record Guards
{
    /// <summary>What a frame of another node with one of the board's identifiers does: true silences for good.</summary>
    public bool ForeignSender { get; init; } = true;

    public BusOffGuard? BusOff { get; init; }

    public EnableGuard? Enable { get; init; }

    /// <summary>Silent for good after this time, µs.</summary>
    public long? RunAtMostUs { get; init; }

    /// <summary>Modes go on after a watchdog reset.</summary>
    public bool Resume { get; init; }

    /// <summary>How many brown-outs a board with outputs takes before it switches nothing any more.</summary>
    public BrownOutGuard? BrownOuts { get; init; } = BrownOutGuard.Usual;
}

/// <summary>Ends the circle of a load that pulls the supply down, a reset, and the load again.</summary>
/// <param name="Most">Brown-out resets in a row after which outputs still switch.</param>
/// <param name="SteadyUs">After this time without a reset they are forgotten, µs.</param>
public sealed record BrownOutGuard(int Most, long SteadyUs)
{
    public static BrownOutGuard Usual => new(3, 10_000_000);
}

/// <summary>How often a board comes back from bus-off.</summary>
/// <param name="Recoveries">Most restarts of a bus within the time.</param>
/// <param name="WithinUs">Time over which they are counted, from the first on, µs.</param>
/// <param name="WaitUs">Pause before a restart, µs.</param>
public sealed record BusOffGuard(int Recoveries, long WithinUs, long WaitUs);

/// <summary>An input without which the board is silent. Null: as a module of the board has it.</summary>
public sealed record EnableGuard(string Input, bool? ActiveHigh, long? DebounceUs, Span Span);

/// <summary>Why a board is silent; the number is what its LED shows.</summary>
public enum Silence
{
    None = 0,

    /// <summary>The board sends, but switches nothing after brown-outs (rule G10).</summary>
    OutputsOff = 1,

    ForeignSender = 2,
    BusOff = 3,
    Disabled = 4,
    RunTime = 5,
}

/// <summary>Why a board starts anew.</summary>
public enum ResetCause
{
    Power,
    Watchdog,
    BrownOut,
}
