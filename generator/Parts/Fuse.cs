namespace Locum.Parts;

/// <summary>Blade fuses.</summary>
public static class Fuse
{
    /// <summary>A fuse lasts when it carries no more than this share of its rating (makers' guides to fuses say 75 % at 25 °C).</summary>
    public const decimal Use = 0.75m;

    /// <summary>Ratings that are sold, A (ISO 8820-3, from memory).</summary>
    public static IReadOnlyList<decimal> Ratings { get; } = [1, 2, 3, 4, 5, 7.5m, 10, 15, 20, 25, 30, 35, 40];

    /// <summary>The least rating for a lasting current; null when none is large enough.</summary>
    public static decimal? For(decimal currentA)
    {
        foreach (var rating in Ratings)
            if (rating * Use >= currentA)
                return rating;
        return null;
    }
}
