namespace Locum.Inference.Relations;

/// <summary>Puts the simplest straight line through pairs of whole numbers that rounding has blurred.</summary>
internal static class LineFit
{
    // Values are whole, so that a difference of two may be off by one.
    private const double Blur = 1.0;
    private const double Near = 1.6;
    private const double LeastShare = 0.9;
    private const int GainDigits = 9;
    private const double Half = 0.5;
    private const double Trim = 0.02;

    /// <summary>Gain and addend; null when no line comes near most pairs.</summary>
    /// <param name="pairs">Distinct pairs (followed, follower), at least two.</param>
    public static (decimal Gain, decimal Add)? Of(IReadOnlyList<(double X, double Y)> pairs)
    {
        var lowest = pairs.MinBy(p => p.Y);
        var highest = pairs.MaxBy(p => p.Y);
        double rise = highest.Y - lowest.Y;
        double run = highest.X - lowest.X;
        if (rise <= 0 || run is 0)
            return null;
        double slope = rise / run;
        int near = pairs.Count(p => Math.Abs(p.Y - lowest.Y - ((p.X - lowest.X) * slope)) <= Near);
        if (near < LeastShare * pairs.Count)
            return null;
        double blur = Blur / Math.Abs(run);
        var fraction = Math.Abs(slope) is 1 ? new Fraction((long)slope, 1) : Fraction.Simplest(slope - blur, slope + blur);
        if (fraction.N is 0)
            return null;
        return (Math.Round((decimal)fraction.N / fraction.D, GainDigits), Addend([.. pairs.Select(p => p.Y - (p.X * fraction.Value)).Order()]));
    }

    // The roundest number that rounds every pair to what was seen, but for a few strays.
    private static decimal Addend(double[] rests)
    {
        int trimmed = (int)(rests.Length * Trim);
        double low = rests[^(1 + trimmed)] - Half;
        double high = rests[trimmed] + Half;
        if (low > high)
            (low, high) = ((low + high) / 2, (low + high) / 2);
        foreach (double unit in (double[])[double.PositiveInfinity, 1000, 100, 50, 10, 5, 1, 0.5, 0.1])
        {
            double round = double.IsInfinity(unit) ? 0 : Math.Ceiling((low + 1e-9) / unit) * unit;
            if (round > low && round < high)
                return (decimal)Math.Round(round, 1);
        }
        return Math.Round((decimal)((low + high) / 2), 2);
    }
}
