using System.Globalization;

namespace Locum.Benching;

/// <summary>Electrical figures as cells: three digits and a unit with its prefix.</summary>
internal static class Figures
{
    private static readonly (decimal Factor, string Name)[] s_ohm = [(1_000_000, "Mohm"), (1_000, "kohm"), (1, "ohm"), (0.001m, "mohm")];

    public static BenchCell None { get; } = new("-");

    public static BenchCell Text(string text) => new(text.Length > 0 ? text : "-");

    public static BenchCell Ohm(decimal? ohm) => Of(ohm, "ohm", s_ohm);

    public static BenchCell Ampere(decimal? ampere) => Of(ampere, "A", (1, "A"), (0.001m, "mA"), (0.000_001m, "uA"));

    public static BenchCell Volt(decimal? volt) => Of(volt, "V", (1, "V"), (0.001m, "mV"));

    public static BenchCell Watt(decimal? watt) => Of(watt, "W", (1, "W"), (0.001m, "mW"), (0.000_001m, "uW"));

    public static BenchCell Joule(decimal? joule) => Of(joule, "J", (1, "J"), (0.001m, "mJ"), (0.000_001m, "uJ"));

    public static BenchCell Farad(decimal? farad) => Of(farad, "F", (1, "F"), (0.000_001m, "uF"));

    public static BenchCell Metre(decimal? metre) => Of(metre, "m", (1, "m"));

    public static BenchCell Second(decimal? s) => Of(s, "s", (1, "s"), (0.001m, "ms"), (0.000_001m, "us"));

    /// <summary>A rating as it is printed on a part.</summary>
    public static BenchCell Rating(decimal? value, string unit) => value is { } v ? new BenchCell($"{Plain(v)} {unit}", (double)v, unit) : new BenchCell("none");

    /// <summary>Two resistances in the unit of the larger one, with a word between them.</summary>
    public static string Ohms(decimal first, string between, decimal second)
    {
        var (factor, name) = s_ohm.FirstOrDefault(u => Math.Max(first, second) >= u.Factor, s_ohm[^1]);
        return $"{Digits(first / factor)} {between} {Digits(second / factor)} {name}";
    }

    public static string Plain(decimal value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static BenchCell Of(decimal? value, string unit, params (decimal Factor, string Name)[] units)
    {
        if (value is not { } v)
            return None;
        var (factor, name) = units.FirstOrDefault(u => Math.Abs(v) >= u.Factor, v is 0 ? units[0] : units[^1]);
        return new BenchCell($"{Digits(v / factor)} {name}", (double)v, unit);
    }

    // Three digits that matter; whole numbers keep all of theirs.
    private static string Digits(decimal value) => Math.Abs(value) switch
    {
        >= 100 => value.ToString("0", CultureInfo.InvariantCulture),
        >= 10 => value.ToString("0.#", CultureInfo.InvariantCulture),
        >= 1 => value.ToString("0.##", CultureInfo.InvariantCulture),
        _ => value.ToString("0.###", CultureInfo.InvariantCulture),
    };
}
