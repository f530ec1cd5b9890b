namespace Locum.Inference.Counting;

/// <summary>Weighs counters against chance.</summary>
internal static class CounterEvidence
{
    // Half of the chance is spent on the few usual counters, half on all others.
    private const double Half = 0.3;
    private const double Log10Widths = 1.8;

    /// <summary>The evidence of a fit.</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="bits">Width of the field.</param>
    /// <param name="payloadBits">Bits at which a counter could begin.</param>
    /// <param name="log10More">Further rules tried.</param>
    public static Evidence Of(CounterFit fit, int bits, int payloadBits, double log10More = 0)
    {
        double rules = Math.Log10(payloadBits) + Log10Widths + Half + log10More;
        // Any step and any two ends.
        if (!fit.Rule.IsUsual(bits))
            rules += 3 * bits * Math.Log10(2);
        int distinct = (int)Math.Min(fit.Rule.Count, (ulong)fit.Hits + 1);
        double log10 = Chance.Log10Tail(fit.Tested, fit.Hits, 1.0 / fit.Rule.Count);
        return new Evidence(fit.Tested, fit.Hits, distinct, Chance.OverRules(log10, rules));
    }
}
