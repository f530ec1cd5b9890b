using Locum.Capture;

namespace Locum.Auditing;

/// <summary>What came of holding a capture against a description.</summary>
public sealed record AuditResult
{
    /// <summary>Worst first.</summary>
    public required IReadOnlyList<Finding> Findings { get; init; }

    /// <summary>What could not be judged, and why.</summary>
    public required IReadOnlyList<string> NotJudged { get; init; }

    /// <summary>Parts of the capture, each with a time of its own.</summary>
    public required IReadOnlyList<RecordingPart> Parts { get; init; }

    /// <summary>How each bus of the description was found.</summary>
    public required IReadOnlyList<AuditedBus> Buses { get; init; }

    public required Tolerance Tolerance { get; init; }

    /// <summary>Frames of the description that were seen.</summary>
    public required long Judged { get; init; }
}

/// <summary>A bus of the description in the capture.</summary>
/// <param name="Name">As the description calls it.</param>
/// <param name="CaptureName">As the capture calls it; null when it has no such bus.</param>
public sealed record AuditedBus(string Name, string? CaptureName, BusPairing How);
