namespace Locum.Inference;

/// <summary>How improbable it is that something which comes now and then did not come at all.</summary>
/// <remarks>Poisson's distribution: events without memory at one rate. What comes by a period is missed even less often.</remarks>
public static class ZeroCount
{
    /// <summary>Decimal logarithm of e^-λ, the chance of no event where λ are expected.</summary>
    /// <param name="expected">λ, 0 or more.</param>
    public static double Log10Chance(double expected) => -expected / Math.Log(10);

    /// <summary>
    /// Decimal logarithm of the chance that all of <paramref name="count"/> events fell into the time in which they were
    /// seen, if they came at one rate all the time: (seen / (seen + unseen))^count. Unlike e^-λ it does not pretend
    /// to know the rate, which a few events hardly tell; with many it becomes the same.
    /// </summary>
    /// <param name="count">Events, 0 or more.</param>
    /// <param name="seen">Time with them, above 0.</param>
    /// <param name="unseen">Time without them, 0 or more.</param>
    public static double Log10Chance(double count, double seen, double unseen) => count * Math.Log10(seen / (seen + unseen));
}
