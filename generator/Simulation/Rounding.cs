namespace Locum.Simulation;

/// <summary>Division to the nearest whole number.</summary>
internal static class Rounding
{
    /// <param name="divisor">Above 0.</param>
    /// <returns>Half away from zero.</returns>
    public static Int128 HalfAway(Int128 value, long divisor) => (value < 0 ? value - (divisor / 2) : value + (divisor / 2)) / divisor;
}
