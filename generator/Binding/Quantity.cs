using System.Globalization;

namespace Locum.Binding;

/// <summary>Numbers with units, as people write them.</summary>
public static class Quantity
{
    private static readonly Dictionary<string, decimal> s_time = new(StringComparer.Ordinal)
    {
        ["us"] = 1,
        ["µs"] = 1,
        ["μs"] = 1,
        ["ms"] = 1_000,
        ["s"] = 1_000_000,
        ["min"] = 60_000_000,
        ["h"] = 3_600_000_000,
    };

    private static readonly Dictionary<string, decimal> s_rate = new(StringComparer.Ordinal)
    {
        ["bit/s"] = 1,
        ["kbit/s"] = 1_000,
        ["Mbit/s"] = 1_000_000,
    };

    private static readonly Dictionary<string, decimal> s_frequency = new(StringComparer.Ordinal)
    {
        ["Hz"] = 1,
        ["kHz"] = 1_000,
        ["MHz"] = 1_000_000,
    };

    private static readonly Dictionary<string, decimal> s_percent = new(StringComparer.Ordinal)
    {
        ["%"] = 10,
    };

    private static readonly Dictionary<string, decimal> s_share = new(StringComparer.Ordinal)
    {
        ["ppm"] = 1,
        ["%"] = 10_000,
    };

    private static readonly Dictionary<string, decimal> s_memory = new(StringComparer.Ordinal)
    {
        ["B"] = 1,
        ["KiB"] = 1024,
        ["MiB"] = 1024 * 1024,
    };

    private static readonly Dictionary<string, decimal> s_resistance = new(StringComparer.Ordinal)
    {
        ["mohm"] = 0.001m,
        ["ohm"] = 1,
        ["kohm"] = 1_000,
        ["Mohm"] = 1_000_000,
    };

    private static readonly Dictionary<string, decimal> s_current = new(StringComparer.Ordinal)
    {
        ["uA"] = 0.000_001m,
        ["mA"] = 0.001m,
        ["A"] = 1,
    };

    private static readonly Dictionary<string, decimal> s_voltage = new(StringComparer.Ordinal)
    {
        ["mV"] = 0.001m,
        ["V"] = 1,
    };

    private static readonly Dictionary<string, decimal> s_power = new(StringComparer.Ordinal)
    {
        ["mW"] = 0.001m,
        ["W"] = 1,
    };

    private static readonly Dictionary<string, decimal> s_capacitance = new(StringComparer.Ordinal)
    {
        ["uF"] = 0.000_001m,
        ["mF"] = 0.001m,
        ["F"] = 1,
    };

    private static readonly Dictionary<string, decimal> s_length = new(StringComparer.Ordinal)
    {
        ["mm"] = 0.001m,
        ["cm"] = 0.01m,
        ["m"] = 1,
    };

    private static readonly Dictionary<string, decimal> s_section = new(StringComparer.Ordinal)
    {
        ["mm2"] = 1,
    };

    private static readonly Dictionary<string, decimal> s_temperature = new(StringComparer.Ordinal)
    {
        ["degC"] = 1,
    };

    private static readonly Dictionary<string, decimal> s_hundredths = new(StringComparer.Ordinal)
    {
        ["%"] = 1,
    };

    /// <summary>A time in µs ("20 ms", "0.5 s", "1 min"); null unless it is a whole number of µs.</summary>
    public static long? TimeUs(string text) => Whole(text, s_time);

    /// <summary>A bit rate in bit/s ("500 kbit/s").</summary>
    public static long? Rate(string text) => Whole(text, s_rate);

    /// <summary>A frequency in Hz ("16 MHz").</summary>
    public static long? Frequency(string text) => Whole(text, s_frequency);

    /// <summary>A percentage in permille ("87.5 %").</summary>
    public static long? Permille(string text) => Whole(text, s_percent);

    /// <summary>A small share in millionths ("100 ppm", "0.5 %").</summary>
    public static long? Ppm(string text) => Whole(text, s_share);

    /// <summary>A memory size in bytes ("32 KiB").</summary>
    public static long? Memory(string text) => Whole(text, s_memory);

    /// <summary>A resistance in ohm ("4.7 kohm").</summary>
    public static decimal? Ohm(string text) => Amount(text, s_resistance);

    /// <summary>A current in A ("50 mA").</summary>
    public static decimal? Ampere(string text) => Amount(text, s_current);

    /// <summary>A voltage in V ("13.5 V").</summary>
    public static decimal? Volt(string text) => Amount(text, s_voltage);

    /// <summary>A power in W ("250 mW").</summary>
    public static decimal? Watt(string text) => Amount(text, s_power);

    /// <summary>A capacitance in F ("2200 uF").</summary>
    public static decimal? Farad(string text) => Amount(text, s_capacitance);

    /// <summary>A length in m ("3 m").</summary>
    public static decimal? Metre(string text) => Amount(text, s_length);

    /// <summary>A cross-section in mm² ("0.75 mm2").</summary>
    public static decimal? SquareMillimetre(string text) => Amount(text, s_section);

    /// <summary>A percentage in % ("0.5 %").</summary>
    public static decimal? Percent(string text) => Amount(text, s_hundredths);

    /// <summary>A temperature in °C ("-40 degC"); the only quantity with a sign.</summary>
    public static decimal? Celsius(string text) =>
        text.StartsWith('-') ? -Amount(text[1..], s_temperature) : Amount(text, s_temperature);

    /// <summary>A whole number, decimal or hexadecimal with 0x, with an optional minus sign.</summary>
    public static long? Integer(string text)
    {
        var negative = text.StartsWith('-');
        var digits = negative ? text[1..] : text;
        ulong value;
        if (digits.StartsWith("0x", StringComparison.OrdinalIgnoreCase))
        {
            if (!ulong.TryParse(digits.AsSpan(2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out value))
                return null;
        }
        else if (!ulong.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out value))
        {
            return null;
        }
        if (value > long.MaxValue)
            return null;
        return negative ? -(long)value : (long)value;
    }

    /// <summary>A decimal number, or a whole one in hexadecimal.</summary>
    public static decimal? Number(string text)
    {
        if (Integer(text) is { } whole)
            return whole;
        if (text.StartsWith("0x", StringComparison.OrdinalIgnoreCase))
            return ulong.TryParse(text.AsSpan(2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var bits) ? bits : null;
        return decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent,
            CultureInfo.InvariantCulture, out var value)
            ? value : null;
    }

    private static long? Whole(string text, Dictionary<string, decimal> units) =>
        Amount(text, units) is { } value && value == decimal.Truncate(value) && value <= long.MaxValue ? (long)value : null;

    private static decimal? Amount(string text, Dictionary<string, decimal> units)
    {
        var split = text.AsSpan().IndexOfAnyExcept("+-0123456789.eE".AsSpan());
        if (split <= 0)
            return null;
        var number = text[..split].TrimEnd();
        var unit = text[split..].Trim();
        if (!units.TryGetValue(unit, out var factor)
            || !decimal.TryParse(number, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value)
            || value > 1_000_000_000_000_000)
            return null;
        // A division by one takes trailing zeros away, so that messages show 0.4 and not 0.40.
        return value * factor / 1.0000000000000000000000000000m;
    }
}
