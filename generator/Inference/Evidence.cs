namespace Locum.Inference;

/// <summary>What speaks for an inferred fact.</summary>
/// <param name="Tested">Frames, or steps between frames, on which the rule could have failed.</param>
/// <param name="Hits">Those on which it held.</param>
/// <param name="Distinct">Different values among the hits; repeats of one payload prove nothing new.</param>
/// <param name="Log10Chance">
/// Decimal logarithm of the chance that at least one of all the rules tried fits random data as well; 0 when
/// nothing can be said.
/// </param>
public readonly record struct Evidence(int Tested, int Hits, int Distinct, double Log10Chance)
{
    /// <summary>A chance below this counts as none: 1 in 10^6.</summary>
    public const double CertainLog10 = -6;

    /// <summary>A chance below this counts as small: 1 in 1000.</summary>
    public const double LikelyLog10 = -3;

    private const double LikelyHits = 0.99;

    /// <summary>Frames that contradict.</summary>
    public int Contradictions => Tested - Hits;

    /// <summary>The word on the scale that this evidence allows at most.</summary>
    public Confidence Confidence =>
        Contradictions is 0 && Log10Chance < CertainLog10 ? Confidence.Certain
        : Tested > 0 && Hits >= LikelyHits * Tested && Log10Chance < LikelyLog10 ? Confidence.Likely
        : Confidence.Possible;
}
