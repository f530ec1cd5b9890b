namespace Locum.Wire;

/// <summary>What a controller's transmitter delay compensation can do (ISO 11898-1:2015, from memory).</summary>
/// <param name="OffsetMax">Largest offset, clock periods in front of the prescaler.</param>
/// <param name="SumMax">Largest measured delay + offset, clock periods.</param>
public sealed record CompensationLimits(int OffsetMax, int SumMax)
{
    /// <summary>Compensation works with a prescaler of the data phase of 1 or 2 only.</summary>
    public const int MostPrescaler = 2;
}
