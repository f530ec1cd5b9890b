namespace Locum.Parts;

/// <summary>Stranded copper wire: resistance, and the fuse it may have.</summary>
public static class CopperWire
{
    /// <summary>Change of resistance per kelvin, from 20 °C.</summary>
    public const decimal PerKelvin = 0.00393m;

    // Greatest resistance of flexible conductors at 20 °C, mohm/m: IEC 60228 class 5; below 0.5 mm² DIN VDE 0295, tinned.
    private static readonly (decimal Mm2, decimal MilliohmPerM)[] s_class5 =
    [
        (0.14m, 138), (0.25m, 79), (0.34m, 56), (0.5m, 39.0m), (0.75m, 26.0m), (1, 19.5m), (1.5m, 13.3m), (2.5m, 7.98m), (4, 4.95m),
        (6, 3.30m), (10, 1.91m), (16, 1.21m), (25, 0.780m), (35, 0.554m), (50, 0.386m),
    ];

    // The largest fuse by section, A. Common practice, no source.
    private static readonly (decimal Mm2, decimal A)[] s_fuses =
        [(0.22m, 3), (0.35m, 5), (0.5m, 7.5m), (0.75m, 10), (1, 15), (1.5m, 20), (2.5m, 30), (4, 40), (6, 50), (10, 70), (16, 100)];

    /// <summary>Resistance of a wire one way, ohm per m; sections between those of the table by the copper of the next smaller one.</summary>
    public static decimal OhmPerM(decimal sectionMm2, decimal celsius)
    {
        var near = s_class5.LastOrDefault(c => c.Mm2 <= sectionMm2, s_class5[0]);
        return near.MilliohmPerM / 1000 * near.Mm2 / sectionMm2 * (1 + (PerKelvin * (celsius - 20)));
    }

    /// <summary>The largest fuse that opens before a wire burns, A; null below the smallest section.</summary>
    public static decimal? LargestFuse(decimal sectionMm2) =>
        s_fuses.Where(f => f.Mm2 <= sectionMm2).Select(f => (decimal?)f.A).LastOrDefault();
}
