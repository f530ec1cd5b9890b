namespace Locum.Parts;

/// <summary>Preferred values of resistors and capacitors (IEC 60063, E6 to E192).</summary>
public static class ESeries
{
    private const int Finest = 192;

    // From 100 to 910; not the rounded powers of ten everywhere: 27 to 47 and 82 are older than the rule.
    private static readonly int[] s_e24 = [100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300, 330, 360, 390, 430, 470, 510, 560, 620, 680, 750, 820, 910];

    // Rounded powers of ten, with 920 where they give 919.
    private static readonly int[] s_e192 = [.. Enumerable.Range(0, Finest).Select(i => (int)Math.Round(100 * Math.Pow(10, i / (double)Finest)) is var v && v is 919 ? 920 : v)];

    /// <summary>The series, coarsest first.</summary>
    public static IReadOnlyList<int> Known { get; } = [6, 12, 24, 48, 96, 192];

    /// <summary>A decade of a series: three digits each, from 100 on.</summary>
    /// <exception cref="ArgumentOutOfRangeException">There is no such series.</exception>
    public static IReadOnlyList<int> Decade(int series)
    {
        if (!Known.Contains(series))
            throw new ArgumentOutOfRangeException(nameof(series));
        var (finest, of) = series <= s_e24.Length ? (s_e24, s_e24.Length) : (s_e192, Finest);
        return [.. finest.Where((_, i) => i % (of / series) is 0)];
    }

    /// <summary>The values from <paramref name="low"/> to <paramref name="high"/>, both above 0.</summary>
    public static IEnumerable<decimal> Between(int series, decimal low, decimal high)
    {
        var decade = Decade(series);
        for (var factor = FactorBelow(low); factor * 100 <= high; factor *= 10)
            foreach (var value in decade.Select(digits => digits * factor).Where(v => v >= low && v <= high))
                yield return value;
    }

    /// <summary>The value nearest to one above 0; of two as near the lower.</summary>
    public static decimal Nearest(int series, decimal value) => Between(series, value / 2, value * 2).MinBy(v => Math.Abs(v - value));

    /// <summary>The least value that is not below one above 0.</summary>
    public static decimal AtLeast(int series, decimal value) => Between(series, value, value * 2).First();

    // A power of ten whose hundredfold is not above the value.
    private static decimal FactorBelow(decimal value)
    {
        var factor = 1m;
        while (factor * 100 > value)
            factor /= 10;
        while (factor * 1_000 <= value)
            factor *= 10;
        return factor;
    }
}
