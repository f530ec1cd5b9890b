using Locum.Inference;

namespace Locum.Drafting;

/// <summary>A drafted description and what it rests on.</summary>
public sealed record Draft
{
    /// <summary>The description in canonical form; null when no frame could be described.</summary>
    public required string? Text { get; init; }

    /// <summary>Name of the module.</summary>
    public required string Name { get; init; }

    /// <summary>The findings that were written down.</summary>
    public required ModuleFindings Findings { get; init; }

    /// <summary>Names of the frames, in the order of the findings' frames.</summary>
    public required IReadOnlyList<string> FrameNames { get; init; }

    /// <summary>Every inferred fact, in the order of the description.</summary>
    public required IReadOnlyList<Fact> Facts { get; init; }

    /// <summary>What is still unexplained.</summary>
    public required IReadOnlyList<Unexplained> Unexplained { get; init; }
}
