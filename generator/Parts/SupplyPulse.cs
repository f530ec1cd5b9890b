namespace Locum.Parts;

/// <summary>What supplies of 12 V systems do besides their steady range: ISO 7637-2 (2011) and ISO 16750-2 (2012), from memory; highest levels.</summary>
/// <param name="PeakV">Absolute, V; for pulses on top of the supply with 13.5 V added.</param>
/// <param name="SourceOhm">Resistance of the source, ohm; 0: as stiff as the battery.</param>
/// <param name="Lasts">How long.</param>
/// <param name="Need">What a supply input needs against it.</param>
public sealed record SupplyPulse(string Name, double PeakV, double SourceOhm, string Lasts, string Need)
{
    /// <summary>A suppressor for 12 V systems holds about this much. Common practice, no source.</summary>
    public const double ClampV = 36;

    private const double SupplyV = 13.5;

    public static IReadOnlyList<SupplyPulse> All { get; } =
    [
        new("pulse 1", -150, 10, "2 ms", "blocking diode"),
        new("pulse 2a", 112 + SupplyV, 2, "50 us", "suppressor"),
        new("pulse 2b", 10, 0, "0.2 to 2 s", "none: it falls slowly"),
        new("pulse 3a", -220, 50, "150 ns, bursts", "ceramic capacitor at plug"),
        new("pulse 3b", 150 + SupplyV, 50, "150 ns, bursts", "ceramic capacitor at plug"),
        new("load dump A", 101, 0.5, "40 to 400 ms", "suppressor of that energy"),
        new("load dump B", 35, 0.5, "40 to 400 ms", "parts for 40 V"),
        new("jump start", 24, 0, "60 s", "parts for 24 V unclamped"),
        new("over-voltage", 18, 0, "60 min", "parts for 18 V, warm"),
        new("reversed", -14, 0, "60 s", "blocking diode"),
        new("cranking", 3, 0, "15 ms or so", "hold-up, or quick restart"),
    ];

    /// <summary>Current into a clamp, A; 0 when the pulse does not reach it.</summary>
    public double ClampA => SourceOhm > 0 && PeakV > ClampV ? (PeakV - ClampV) / SourceOhm : 0;
}
