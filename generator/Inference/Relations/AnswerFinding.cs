using Locum.Capture;

namespace Locum.Inference.Relations;

/// <summary>Frames that come after those of another identifier, one for one.</summary>
public sealed record AnswerFinding
{
    /// <summary>What is answered.</summary>
    public required FrameSeries Request { get; init; }

    /// <summary>From the end of a request to the end of its answer in most cases, microseconds.</summary>
    public required double AfterUs { get; init; }

    /// <summary>Shortest and longest time, microseconds.</summary>
    public required (long Low, long High) RangeUs { get; init; }

    /// <summary>Requests and answers together, and those that belong to a pair.</summary>
    public required Evidence Evidence { get; init; }
}
