using Locum.Model;
using Locum.Reporting;

namespace Locum.Reviewing;

/// <summary>Values in the words of a description.</summary>
internal static class Say
{
    public static string Time(long us) => us switch
    {
        0 => "0 ms",
        _ when us % 60_000_000 is 0 => $"{us / 60_000_000} min",
        _ when us % 1_000_000 is 0 => $"{us / 1_000_000} s",
        _ when us % 1_000 is 0 => $"{us / 1_000} ms",
        _ => $"{us} us",
    };

    public static string Rate(int rate) => rate % 1_000_000 is 0 ? $"{rate / 1_000_000} Mbit/s" : $"{Number(rate / 1_000m)} kbit/s";

    public static string Permille(int permille) => $"{Number(permille / 10m)} %";

    public static string Number(decimal value) => RawText.Number(value);

    public static string Bytes(IEnumerable<byte> bytes) => string.Join(' ', bytes.Select(b => b.ToString("X2")));

    public static string YesNo(bool value) => value ? "yes" : "no";

    public static string List(IEnumerable<string> words)
    {
        var text = string.Join(", ", words);
        return text.Length > 0 ? text : "none";
    }

    /// <summary>A raw value as its name, or as the physical value with its unit.</summary>
    public static string Raw(ulong raw, Field field) => RawText.Of(raw, field);

    /// <summary>A raw value with its sign as the physical one.</summary>
    public static string Physical(decimal raw, Field field) => RawText.Physical(raw, field);
}
