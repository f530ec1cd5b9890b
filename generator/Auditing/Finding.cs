using Locum.Inference;
using Locum.Text;

namespace Locum.Auditing;

/// <summary>One thing that a receiver would object to, or that differs from the original.</summary>
public sealed record Finding
{
    public required FindingKind Kind { get; init; }

    public required string Module { get; init; }

    /// <summary>Name of the frame; null when it is about the module.</summary>
    public required string? Frame { get; init; }

    /// <summary>Identifier of the frame as text; null when it is about the module.</summary>
    public required string? Id { get; init; }

    /// <summary>What was seen and what was expected.</summary>
    public required string Message { get; init; }

    /// <summary>Number of the capture's part, from 0.</summary>
    public int Part { get; init; }

    /// <summary>Capture time of the first occurrence, µs.</summary>
    public required long FirstUs { get; init; }

    /// <summary>Capture time of the last one, µs.</summary>
    public required long LastUs { get; init; }

    /// <summary>How often.</summary>
    public required int Count { get; init; }

    /// <summary>The line of the description that says otherwise.</summary>
    public required Span Span { get; init; }

    /// <summary>From the first occurrence to the complaint of a typical receiver, µs; null when it would not complain by this alone.</summary>
    public long? ComplainsUs { get; init; }

    /// <summary>What such a receiver needs to be content again; null when it does not complain.</summary>
    public string? Recovers { get; init; }

    public Confidence Confidence { get; init; } = Confidence.Certain;
}
