namespace Locum.Comparing;

/// <summary>Chances as decimal logarithms.</summary>
internal static class Shuffle
{
    /// <summary>
    /// The chance that of two kinds of equal things all of one kind come to stand on one side: one in as many as there are
    /// ways to choose (permutation test).
    /// </summary>
    public static double Log10Chance(double one, double other)
    {
        var (small, all) = (Math.Min(one, other), one + other);
        var log = 0.0;
        for (var i = 1; i <= small; i++)
            log += Math.Log10((all - small + i) / i);
        return -log;
    }
}
