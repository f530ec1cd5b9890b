namespace Locum.Inference.Checksums;

/// <summary>Bounds of a search.</summary>
public sealed record SearchLimits
{
    /// <summary>Most findings to report for each series.</summary>
    public int MostFindings { get; init; } = 16;

    /// <summary>Most series searched at once; 0 is the number of processors.</summary>
    public int Parallel { get; init; }
}
