namespace Locum.Inference.Checksums;

/// <summary>
/// How probable it is that at least one of all rules tried fits data without a checksum.
/// <para>
/// A rule with an unknown constant takes one payload to solve it. Every further payload whose covered bits are an
/// independent difference (over GF(2)) from those before predicts the checksum anew: a linear rule that predicts all
/// independent differences predicts their sums as well, so sums prove nothing new. Data that do not know the rule hit
/// one prediction of w bits with a chance of 2^-w, and n of them with 2^-(w·n). With constants chosen by a counter only
/// differences between frames of the same counter value count. A rule without unknown constant predicts the first
/// payload, too.
/// </para>
/// <para>
/// With N rules tried in a family (places, ranges and polynomials included) the chance that one of them fits is at most
/// N · 2^-(w·n). The allowed chance is shared equally among the F families, as if each had F times as many rules:
/// <code>log10 chance = log10(F · N) − w · n · log10 2</code>
/// A rule that belongs to two families takes the smaller result. Where x of D different payloads contradict, any x of
/// them might have been left out, which multiplies the rules by C(D, x).
/// </para>
/// <para>
/// Sums and XORs, unlike CRCs, are imitated by data that are copies of each other: a second counter, a complement. For
/// them a byte that moves is one prediction, not one per bit: n is 1 plus the least number of independent differences
/// that remain when any one byte is left out, and w is the number of bits of the place that ever change. Each further
/// step from frame to frame in which something else than that byte changes counts one bit, up to 24: data that merely
/// move along would have to jump just then.
/// </para>
/// <para>
/// A rule without unknown constant over data that imitate sums still has to meet the full width once.
/// </para>
/// </summary>
internal static class FalseHit
{
    // 64 independent differences settle any question.
    private const int Enough = 64;
    private const int J1939Bits = 3;
    private const int MostStepBits = 24;

    /// <summary>The decimal logarithm of the chance; never above 0.</summary>
    /// <param name="verified">The rule and its counts.</param>
    /// <param name="view">The payloads that satisfy it.</param>
    /// <param name="tally">Rules tried.</param>
    /// <param name="named">The rule has no constant that was solved, and reads all bytes or those on one side.</param>
    /// <param name="profile">The rule is that of an end-to-end profile in its own layout.</param>
    public static double Log10(Verified verified, HitView view, Tally tally, bool named, bool profile)
    {
        var fit = verified.Fit;
        double bits = fit.IsPlain ? PlainBits(fit, view) : fit.Place.Bits * view.Rank(-1, Enough);
        int constant = fit is J1939Fit ? J1939Bits : fit.Place.Bits;
        double log10 = Log10(tally, fit.Family, fit.Family is RuleFamily.Named ? bits + constant : bits);
        if (named)
            log10 = Math.Min(log10, Log10(tally, RuleFamily.Named, bits + constant));
        if (profile)
            log10 = Math.Min(log10, Log10(tally, RuleFamily.Profile, bits));
        return Math.Min(0, log10 + Choices(verified.HitDistinct + verified.Contradictions, verified.Contradictions));
    }

    private static double Log10(Tally tally, RuleFamily family, double bits) =>
        Math.Log10(tally.Families * tally[family]) - (bits * Math.Log10(2));

    private static int PlainBits(Fit fit, HitView view)
    {
        int width = Math.Min(fit is J1939Fit ? J1939Bits : fit.Place.Bits, view.ChangedOwnBits);
        int all = view.Rank(-1, Enough);
        if (all is 0)
            return 0;
        int least = all;
        foreach (int b in view.SeenBytes)
            least = Math.Min(least, view.Rank(b, least));
        int checks = Math.Min(all, 1 + least);
        return (width * checks) + Math.Clamp(view.LeastSteps() - least, 0, MostStepBits);
    }

    private static double Choices(int from, int choose)
    {
        double log10 = 0;
        for (int i = 0; i < choose; i++)
            log10 += Math.Log10((double)(from - i) / (i + 1));
        return log10;
    }
}
