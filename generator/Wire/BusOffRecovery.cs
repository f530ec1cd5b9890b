namespace Locum.Wire;

/// <summary>The way back from bus-off (ISO 11898-1, fault confinement, from memory).</summary>
public static class BusOffRecovery
{
    /// <summary>128 times 11 recessive bits.</summary>
    private const long Bits = 1_408;

    /// <summary>How long a controller counts on an idle bus before it takes part again, µs rounded up.</summary>
    /// <param name="rate">bit/s.</param>
    public static long Us(int rate) => ((Bits * 1_000_000) + rate - 1) / rate;
}
