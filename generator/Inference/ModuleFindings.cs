using Locum.Capture;
using Locum.Inference.Buses;
using Locum.Inference.Counting;
using Locum.Inference.Starting;

namespace Locum.Inference;

/// <summary>All that was found out about a module.</summary>
public sealed record ModuleFindings
{
    /// <summary>Where it was found.</summary>
    public required Recording Recording { get; init; }

    /// <summary>Step of the time stamps, microseconds.</summary>
    public required int QuantumUs { get; init; }

    /// <summary>The buses on which the module sends, by number.</summary>
    public required IReadOnlyList<BusFinding> Buses { get; init; }

    /// <summary>Its frames, by bus and identifier.</summary>
    public required IReadOnlyList<FrameFindings> Frames { get; init; }

    /// <summary>Every start.</summary>
    public required IReadOnlyList<ModuleStart> Starts { get; init; }

    /// <summary>The start that offsets and first values are taken from.</summary>
    public required ModuleStart Start { get; init; }

    /// <summary>Stages after it.</summary>
    public required PhaseFinding Phases { get; init; }

    /// <summary>Counters that two frames share: numbers in <see cref="Frames"/>.</summary>
    public required IReadOnlyList<(int A, int B, SharedCounterFinder.Shared Shared)> SharedCounters { get; init; }
}
