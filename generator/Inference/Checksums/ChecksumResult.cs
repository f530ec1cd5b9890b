using Locum.Capture;

namespace Locum.Inference.Checksums;

/// <summary>The outcome of a search over one series.</summary>
public sealed record ChecksumResult
{
    /// <summary>What was searched.</summary>
    public required FrameSeries Series { get; init; }

    /// <summary>All rules that fit better than chance, best first.</summary>
    public required IReadOnlyList<ChecksumFinding> Findings { get; init; }

    /// <summary>
    /// The findings to believe: the best of each length and place, so that no two places overlap and no relation is
    /// told twice. Best first.
    /// </summary>
    public required IReadOnlyList<ChecksumFinding> Chosen { get; init; }

    /// <summary>Rules tried, counted with their places, ranges and polynomials.</summary>
    public required double RulesTried { get; init; }

    /// <summary>Places tried.</summary>
    public required int PlacesTried { get; init; }

    /// <summary>Why <see cref="Findings"/> is empty.</summary>
    public required NoChecksumReason Reason { get; init; }

    /// <summary>Places that behave as a checksum does although no rule explains them; with <see cref="NoChecksumReason.NoRuleFits"/>.</summary>
    public required IReadOnlyList<ChecksumPlace> Suspects { get; init; }
}
