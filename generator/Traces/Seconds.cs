using System.Globalization;

namespace Locum.Traces;

/// <summary>Microseconds as seconds with six decimals; exact, without floating point.</summary>
internal static class Seconds
{
    /// <param name="us">0 or more.</param>
    public static string Of(long us) =>
        string.Create(CultureInfo.InvariantCulture, $"{us / 1_000_000}.{us % 1_000_000:D6}");
}
