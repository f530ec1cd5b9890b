namespace Locum.Inference;

/// <summary>Words on the scale, held down where evidence alone would say too much.</summary>
public static class ConfidenceLimit
{
    /// <summary>The lower of two words.</summary>
    public static Confidence AtMost(this Confidence confidence, Confidence limit) => confidence < limit ? confidence : limit;
}
