namespace Locum.Inference.Timing;

/// <summary>
/// The time a measured one was probably meant to be. Clocks of modules and loggers differ by some hundred parts per million,
/// with ceramic resonators by some thousand (common practice, no source).
/// </summary>
public static class NominalTime
{
    private const double UsualTolerance = 0.004;
    private const double WholeTolerance = 0.001;
    private const int Digits = 4;

    // Periods people choose, in milliseconds (common practice, no source).
    private static readonly double[] s_usualMs =
    [
        5, 10, 12.5, 15, 20, 25, 30, 40, 50, 60, 75, 80, 100, 120, 125, 150, 160, 200, 240, 250, 300, 400, 500, 600, 640, 750, 800, 1000,
        1200, 1250, 1500, 2000, 2500, 3000, 4000, 5000, 6000, 10_000, 15_000, 20_000, 30_000, 60_000,
    ];

    /// <summary>A usual period or a whole number of milliseconds near the measured one; otherwise the measured one, rounded.</summary>
    /// <param name="measuredUs">Microseconds, above 0.</param>
    /// <param name="errorUs">By how much jitter and few samples may have spoiled it, microseconds.</param>
    public static long Of(double measuredUs, double errorUs)
    {
        double usual = s_usualMs.MinBy(ms => Math.Abs((ms * 1000) - measuredUs)) * 1000;
        if (Math.Abs(usual - measuredUs) <= (UsualTolerance * measuredUs) + errorUs)
            return (long)usual;
        double whole = Math.Round(measuredUs / 1000) * 1000;
        if (whole > 0 && Math.Abs(whole - measuredUs) <= (WholeTolerance * measuredUs) + errorUs)
            return (long)whole;
        return Rounded(measuredUs);
    }

    /// <summary>A delay or offset to the nearest millisecond when that is within the error, otherwise to tenths of it.</summary>
    public static long Delay(double measuredUs, double errorUs)
    {
        double whole = Math.Round(measuredUs / 1000) * 1000;
        return Math.Abs(whole - measuredUs) <= errorUs ? (long)whole : (long)Math.Round(measuredUs / 100) * 100;
    }

    /// <summary>The roundest time above the first and not above the second bound, microseconds.</summary>
    public static long Between(long aboveUs, long mostUs)
    {
        for (long unit = 1_000_000_000; unit > 1; unit /= 10)
            foreach (long part in (long[])[unit, unit / 2, unit / 5])
                if (mostUs / part * part > aboveUs && mostUs / part > 0)
                    return mostUs / part * part;
        return mostUs;
    }

    /// <summary>The roundest time within the bounds and, if there is a choice, not at their ends, microseconds.</summary>
    public static long Within(long aboveUs, long mostUs)
    {
        long edge = (mostUs - aboveUs) / 8;
        return Between(aboveUs + edge, mostUs - edge) is var inner && inner % 100 is 0 ? inner : Between(aboveUs, mostUs);
    }

    private static long Rounded(double us)
    {
        double unit = Math.Pow(10, Math.Max(0, Math.Floor(Math.Log10(us)) - Digits + 1));
        return Math.Max(1, (long)(Math.Round(us / unit) * unit));
    }
}
