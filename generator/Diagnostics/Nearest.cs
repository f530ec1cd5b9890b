namespace Locum.Diagnostics;

/// <summary>Finds the word that a mistyped one was probably meant to be.</summary>
public static class Nearest
{
    // Longer lists help nobody.
    private const int Most = 24;

    /// <summary>The closest candidate within a third of the word's length (at least 1 edit), or null.</summary>
    public static string? To(string word, IEnumerable<string> candidates)
    {
        var limit = Math.Max(1, word.Length / 3);
        return candidates
            .Select(c => (Word: c, Distance: Distance(word.ToLowerInvariant(), c.ToLowerInvariant())))
            .Where(c => c.Distance <= limit)
            .OrderBy(c => c.Distance)
            .ThenBy(c => c.Word, StringComparer.Ordinal)
            .Select(c => c.Word)
            .FirstOrDefault();
    }

    /// <summary>"did you mean …" when there is a near word, otherwise the list of what is allowed.</summary>
    public static string Mend(string word, IReadOnlyCollection<string> candidates, string what)
    {
        if (To(word, candidates) is { } near)
            return $"did you mean '{near}'?";
        if (candidates.Count is 0)
            return $"there is no {what} to name here";
        var shown = candidates.Distinct(StringComparer.Ordinal).Take(Most).Select(Printable.Short);
        return $"use one of: {string.Join(", ", shown)}{(candidates.Count > Most ? ", …" : "")}";
    }

    // Edit distance in which a swap of neighbours counts once.
    private static int Distance(string a, string b)
    {
        if (Math.Abs(a.Length - b.Length) > 8 || a.Length > 64 || b.Length > 64)
            return int.MaxValue;
        var d = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++)
            d[i, 0] = i;
        for (var j = 0; j <= b.Length; j++)
            d[0, j] = j;
        for (var i = 1; i <= a.Length; i++)
        {
            for (var j = 1; j <= b.Length; j++)
            {
                var change = a[i - 1] == b[j - 1] ? 0 : 1;
                d[i, j] = Math.Min(Math.Min(d[i - 1, j] + 1, d[i, j - 1] + 1), d[i - 1, j - 1] + change);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
            }
        }
        return d[a.Length, b.Length];
    }
}
