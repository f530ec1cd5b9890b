namespace Locum.Inference;

/// <summary>Probabilities of chance hits, as decimal logarithms: small numbers that a double could not hold.</summary>
public static class Chance
{
    private const double Negligible = 1e-17;

    /// <summary>
    /// Decimal logarithm of the chance of at least <paramref name="hits"/> hits in <paramref name="tested"/> independent
    /// trials (upper tail of the binomial distribution); 0 when nothing was tested.
    /// </summary>
    /// <param name="tested">Trials.</param>
    /// <param name="hits">Hits, at most <paramref name="tested"/>.</param>
    /// <param name="p">Chance of a hit in one trial, above 0 and at most 1.</param>
    public static double Log10Tail(long tested, long hits, double p)
    {
        if (tested is 0 || hits is 0 || p >= 1 || hits <= tested * p)
            return 0;
        double sum = 1;
        double term = 1;
        // Above the mean the terms fall at least like a geometric series.
        for (long k = hits; k < tested && term > Negligible * sum; k++)
        {
            term *= (tested - k) / (k + 1.0) * (p / (1 - p));
            sum += term;
        }
        return Math.Min(0, (LogChoose(tested, hits) + (hits * Math.Log(p)) + ((tested - hits) * Math.Log(1 - p)) + Math.Log(sum)) / Math.Log(10));
    }

    /// <summary>The same for the best of several rules tried, by the union bound.</summary>
    /// <param name="log10">Decimal logarithm of the chance for one rule.</param>
    /// <param name="log10Rules">Decimal logarithm of the number of rules tried.</param>
    public static double OverRules(double log10, double log10Rules) => Math.Min(0, log10 + log10Rules);

    // Natural logarithm of the binomial coefficient.
    private static double LogChoose(long n, long k) => LogFactorial(n) - LogFactorial(k) - LogFactorial(n - k);

    // Stirling's series; exact sums below it. The error stays under 1e-10.
    private static double LogFactorial(long n)
    {
        if (n < 16)
        {
            double log = 0;
            for (long i = 2; i <= n; i++)
                log += Math.Log(i);
            return log;
        }
        double x = n + 1.0;
        return ((x - 0.5) * Math.Log(x)) - x + (0.5 * Math.Log(2 * Math.PI)) + (1 / (12 * x)) - (1 / (360 * x * x * x)) + (1 / (1260 * x * x * x * x * x));
    }
}
