using Locum.Model;
using Locum.Simulation;

namespace Locum.Auditing;

/// <summary>The values of a ramp (rule 28).</summary>
internal static class RampPlaces
{
    /// <summary>True if the ramp takes a value.</summary>
    public static bool Has(Ramp ramp, long value)
    {
        if (value < Math.Min(ramp.From, ramp.To) || value > Math.Max(ramp.From, ramp.To))
            return false;
        if (ramp.From == ramp.To)
            return true;
        // The place nearest to the value, and its neighbours because of the rounding.
        var near = (long)Rounding.HalfAway((Int128)Math.Abs(value - ramp.From) * ramp.Steps, Math.Abs(ramp.To - ramp.From));
        for (var place = Math.Max(0, near - 1); place <= Math.Min(ramp.Steps, near + 1); place++)
            if (At(ramp, place) == value)
                return true;
        return false;
    }

    /// <summary>The most releases in a row that can have the same value while the ramp moves.</summary>
    public static long Longest(Ramp ramp) => ramp.From == ramp.To || ramp is { End: RampEnd.Repeat, Steps: 1 } ? long.MaxValue
        : (ramp.End is RampEnd.Back ? 2 : 1) * ((ramp.Steps / Math.Abs(ramp.To - ramp.From)) + 2);

    private static long At(Ramp ramp, long place) => ramp.From + (long)Rounding.HalfAway((Int128)(ramp.To - ramp.From) * place, ramp.Steps);
}
