namespace Locum.Parts;

/// <summary>A current that begins many times higher and falls exponentially.</summary>
/// <param name="SteadyA">Where it ends, A.</param>
/// <param name="Times">Where it begins, in times of that; 1 or more.</param>
/// <param name="SettlesS">When it is within 5 % of the end, s.</param>
public sealed record Inrush(double SteadyA, double Times, double SettlesS)
{
    private const double Within = 0.05;

    /// <summary>A cold filament's resistance is a tenth of the hot one's, as makers of relays and switches state it.</summary>
    public const decimal Filament = 10;

    /// <summary>A standing motor, as makers of relays and switches state it.</summary>
    public const decimal Motor = 6;

    public double PeakA => SteadyA * Times;

    // 0 when it settles at once.
    private double TimeConstantS => Times - 1 <= Within ? 0 : SettlesS / Math.Log((Times - 1) / Within);

    /// <summary>The current at a time from switching on, A.</summary>
    public double At(double s) => TimeConstantS > 0 ? SteadyA * (1 + ((Times - 1) * Math.Exp(-s / TimeConstantS))) : s > 0 ? SteadyA : PeakA;

    /// <summary>Integral of the squared current until it has settled, A²s: what a fuse must let pass.</summary>
    public double MeltingIntegral
    {
        get
        {
            var (k, tau) = (Times - 1, TimeConstantS);
            if (tau is 0)
                return 0;
            var end = SettlesS / tau;
            return SteadyA * SteadyA * (SettlesS + (2 * k * tau * (1 - Math.Exp(-end))) + (k * k * tau / 2 * (1 - Math.Exp(-2 * end))));
        }
    }
}
