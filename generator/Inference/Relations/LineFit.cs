namespace Locum.Inference.Relations;

/// <summary>Puts the simplest straight line through pairs of whole numbers that rounding has blurred.</summary>
internal static class LineFit
{
    // Values are whole, so that a difference of two may be off by one.
    private const double Blur = 1.0;
    private const double Near = 1.6;
    private const double LeastShare = 0.7;
    private const int GainDigits = 9;
    private const double Half = 0.5;
    private const double Trim = 0.02;
    private const double Tiny = 1e-9;

    /// <summary>Gain and addend; null when no line comes near most pairs.</summary>
    /// <param name="pairs">Distinct pairs (followed, follower), at least two.</param>
    public static (decimal Gain, decimal Add)? Of(IReadOnlyList<(double X, double Y)> pairs)
    {
        var order = pairs.OrderBy(p => p.Y).ThenBy(p => p.X).ToList();
        // Values at a limit, or while the source is lost, lie beside the line: if the outermost pairs do not hold, inner ones may.
        int limitedLow = order.Count(p => p.Y == order[0].Y);
        int limitedHigh = order.Count(p => p.Y == order[^1].Y);
        (Fraction Gain, decimal Add)? best = null;
        foreach (int low in (int[])[0, 1, limitedLow])
            foreach (int high in (int[])[order.Count - 1, order.Count - 2, order.Count - 1 - limitedHigh])
                if (low < high && Through(order[low], order[high], pairs) is { } line && (best is null || line.Gain.D < best.Value.Gain.D))
                    best = line;
        return best is var (gain, add) ? (Math.Round((decimal)gain.N / gain.D, GainDigits), add) : null;
    }

    private static (Fraction Gain, decimal Add)? Through((double X, double Y) low, (double X, double Y) high, IReadOnlyList<(double X, double Y)> pairs)
    {
        double rise = high.Y - low.Y;
        double run = high.X - low.X;
        if (rise <= 0 || run is 0)
            return null;
        double slope = rise / run;
        var near = pairs.Where(p => Math.Abs(p.Y - low.Y - ((p.X - low.X) * slope)) <= Near).ToList();
        if (near.Count < LeastShare * pairs.Count)
            return null;
        double blur = Blur / Math.Abs(run);
        var fraction = Math.Abs(slope) is 1 ? new Fraction((long)slope, 1) : Fraction.Simplest(slope - blur, slope + blur);
        if (fraction.N is 0)
            return null;
        return (fraction, Addend([.. near.Select(p => p.Y - (p.X * fraction.Value)).Order()]));
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
            // Halves are rounded up, so that the lower end belongs to the range and the upper one does not.
            double round = double.IsInfinity(unit) ? 0 : Math.Ceiling((low - Tiny) / unit) * unit;
            if (round >= low - Tiny && round < high - Tiny)
                return (decimal)Math.Round(round, 1);
        }
        return Math.Round((decimal)((low + high) / 2), 2);
    }
}
