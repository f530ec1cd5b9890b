using System.Globalization;

namespace Locum.Reporting;

/// <summary>Measured times and counts in words.</summary>
internal static class Words
{
    /// <summary>A duration with the digits that matter.</summary>
    public static string Time(double us) => Math.Abs(us) switch
    {
        >= 10_000_000 => $"{Number(us / 1e6, "0.#")} s",
        >= 1_000_000 => $"{Number(us / 1e6, "0.##")} s",
        >= 100_000 => $"{Number(us / 1e3, "0")} ms",
        >= 10_000 => $"{Number(us / 1e3, "0.#")} ms",
        >= 1_000 => $"{Number(us / 1e3, "0.##")} ms",
        _ => $"{Number(us, "0")} us",
    };

    /// <summary>"1 frame", "2 frames".</summary>
    public static string Count(long count, string what) => $"{count} {what}{(count is 1 ? "" : "s")}";

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
