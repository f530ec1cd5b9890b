using Locum.Model;

namespace Locum.Simulation;

/// <summary>What happened in one simulation. Times in µs since power-on.</summary>
/// <param name="Frames">Frames that left a bus, in order of their end; then, without start and end, those that still waited.</param>
/// <param name="Modes">Mode changes, in order of time.</param>
/// <param name="Skipped">Releases not sent, by board, then by row of its frame table.</param>
/// <param name="EndUs">Simulated time.</param>
public sealed record SimulationResult(
    IReadOnlyList<SentFrame> Frames,
    IReadOnlyList<ModeChange> Modes,
    IReadOnlyList<IReadOnlyList<long>> Skipped,
    long EndUs)
{
    /// <summary>Begins and ends of silence, in order of time.</summary>
    public IReadOnlyList<SilenceChange> Silences { get; init; } = [];

    /// <summary>Outputs that went on or off, in order of time.</summary>
    public IReadOnlyList<OutputChange> Outputs { get; init; } = [];

    /// <summary>An output that switched without end, which ended the simulation; null when none did.</summary>
    public OutputChange? Runaway { get; init; }
}

/// <summary>A board is silent for another reason, or talks again, from the step at this time on.</summary>
public sealed record SilenceChange(long AtUs, int Board, Silence Reason);

/// <summary>An output of a board is on or off from the step, or the reset, at this time on.</summary>
public sealed record OutputChange(long AtUs, int Board, int Output, bool On);

/// <summary>A module of a board is in another mode after the step at this time.</summary>
public sealed record ModeChange(long AtUs, int Board, int Module, int Mode);
