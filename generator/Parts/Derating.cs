namespace Locum.Parts;

/// <summary>What power a resistor may carry in warm air: all of it up to one temperature, none from another on, linear between.</summary>
public static class Derating
{
    /// <summary>Film resistors, as most makers state them (from memory).</summary>
    public const decimal UsualFullToC = 70;

    /// <summary>The same.</summary>
    public const decimal UsualZeroAtC = 155;

    /// <summary>A part is used up to half of what it may carry. Common practice, no source.</summary>
    public const decimal Use = 0.5m;

    /// <summary>Ratings that are sold, W. Common practice, no source.</summary>
    public static IReadOnlyList<decimal> Ratings { get; } = [0.125m, 0.25m, 0.5m, 1, 2, 3, 5, 7, 10, 15, 25, 50, 100, 200];

    /// <summary>Share of the rated power, 0 to 1.</summary>
    public static decimal Factor(decimal ambientC, decimal fullToC, decimal zeroAtC) =>
        ambientC <= fullToC ? 1 : ambientC >= zeroAtC ? 0 : (zeroAtC - ambientC) / (zeroAtC - fullToC);

    /// <summary>The share of a short power that a rating has to be: a tenth up to 100 ms, a fifth up to 5 s, all of it beyond. Common practice, no source.</summary>
    public static decimal PulseShare(long us) => us switch
    {
        <= 100_000 => 0.1m,
        <= 5_000_000 => 0.2m,
        _ => 1,
    };

    /// <summary>The least rating that carries a lasting power at half of what it may, and short ones; null when none does.</summary>
    /// <param name="shortW">The largest short power by its <see cref="PulseShare"/>, W.</param>
    public static decimal? Rating(decimal powerW, decimal shortW, decimal factor)
    {
        foreach (var rating in Ratings)
            if (rating * factor * Use >= powerW && rating * factor >= shortW)
                return rating;
        return null;
    }
}
