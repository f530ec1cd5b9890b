namespace Locum.Inference;

/// <summary>How sure an inferred fact is; the one scale of all findings from captures.</summary>
public enum Confidence
{
    /// <summary>Fits what was seen, but little was seen, or another rule fits as well.</summary>
    Possible,

    /// <summary>Fits much that was seen; a chance hit is improbable, or a few frames contradict.</summary>
    Likely,

    /// <summary>
    /// No frame contradicts, and the chance of a false hit over all rules tried is below 1 in 10^6.
    /// </summary>
    Certain,
}
