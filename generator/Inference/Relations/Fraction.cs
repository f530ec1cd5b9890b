namespace Locum.Inference.Relations;

/// <summary>A ratio of whole numbers.</summary>
/// <param name="N">Numerator.</param>
/// <param name="D">Denominator, above 0.</param>
internal readonly record struct Fraction(long N, long D)
{
    private const int MostSteps = 32;

    /// <summary>The ratio as a number.</summary>
    public double Value => (double)N / D;

    /// <summary>The fraction with the smallest denominator between two bounds, both included: a walk down the Stern-Brocot tree.</summary>
    public static Fraction Simplest(double low, double high) => Simplest(low, high, MostSteps);

    private static Fraction Simplest(double low, double high, int steps)
    {
        if (low <= 0 && high >= 0)
            return new Fraction(0, 1);
        if (high < 0)
        {
            var mirrored = Simplest(-high, -low, steps);
            return mirrored with { N = -mirrored.N };
        }
        double whole = Math.Ceiling(low);
        if (whole <= high || steps is 0)
            return new Fraction((long)whole, 1);
        double floor = whole - 1;
        var inner = Simplest(1 / (high - floor), 1 / (low - floor), steps - 1);
        return new Fraction(((long)floor * inner.N) + inner.D, inner.N);
    }
}
