using System.Globalization;
using System.Text;
using Locum.Model;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>What a field of a table could be, by its looks.</summary>
internal static class Token
{
    /// <summary>A number of any kind: decimal, hexadecimal, a time of day, a date, also in brackets; or a row of bytes.</summary>
    public static bool IsNumeric(string text) => text.Length > 0 && (IsHex(text) || IsDecimal(text) || IsClock(text) || IsDate(text) || IsId(text) || PackedBytes(text) > 0);

    public static bool IsHex(string text) => text.Length > 0 && text.All(char.IsAsciiHexDigit);

    public static bool IsInteger(string text) => text.Length is > 0 and <= 18 && text.All(char.IsAsciiDigit);

    /// <summary>A decimal number with point or comma, sign, exponent, brackets or unit.</summary>
    public static bool IsDecimal(string text) => Decimal(text) is not null;

    /// <summary>Its value.</summary>
    public static decimal? Decimal(string text)
    {
        if (text.Length is 0 or > 40)
            return null;
        var bytes = Encoding.Latin1.GetBytes(Bare(text).Replace(',', '.'));
        // A unit of a billion keeps nine digits behind the mark.
        return TimeText.Number(bytes, 1_000_000_000, (byte)'.') is { } scaled ? scaled / 1_000_000_000m
            : TimeText.Number(bytes, 1, (byte)'.') is { } whole ? whole : null;
    }

    /// <summary>Digits behind a decimal mark; 0 without one.</summary>
    public static int FractionDigits(string text)
    {
        var bare = Bare(text);
        int mark = bare.IndexOfAny(['.', ',']);
        return mark < 0 ? 0 : bare[(mark + 1)..].TakeWhile(char.IsAsciiDigit).Count();
    }

    public static bool IsClock(string text) => text.Contains(':', StringComparison.Ordinal) && Clock(Encoding.Latin1.GetBytes(text)) is not null;

    public static bool IsDate(string text) => Days(text, false) is not null || Days(text, true) is not null;

    public static long? Days(string text, bool monthFirst) => ClockText.Days(Encoding.Latin1.GetBytes(text), monthFirst);

    /// <summary>An identifier in any way of writing.</summary>
    public static bool IsId(string text) =>
        IdDigits(text) is { } digits && (digits.Length <= 8 || (digits.Length is 9 && uint.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out uint id) && id <= CanId.MaxExtended));

    /// <summary>The digits of an identifier without 0x, h or x; null when it is none.</summary>
    public static string? IdDigits(string text)
    {
        if (text.StartsWith("0x", StringComparison.OrdinalIgnoreCase))
            text = text[2..];
        if (text.Length > 1 && text[^1] is ':' or ',' or '#')
            text = text[..^1];
        if (text.Length > 1 && text[^1] is 'h' or 'H' or 'x' or 'X')
            text = text[..^1];
        return IsHex(text) ? text : null;
    }

    /// <summary>A data byte in any way of writing.</summary>
    public static bool IsByte(string text)
    {
        var bytes = Encoding.Latin1.GetBytes(text);
        return ByteText.One(bytes, NumberBase.Hex) >= 0 || ByteText.One(bytes, NumberBase.Decimal) >= 0;
    }

    /// <summary>Number of bytes in a field that can hold several; -1 when it holds something else.</summary>
    public static int PackedBytes(string text)
    {
        Span<byte> bytes = stackalloc byte[64];
        var latin = Encoding.Latin1.GetBytes(text);
        int hex = ByteText.Any(latin, NumberBase.Hex, bytes);
        return hex >= 0 ? hex : ByteText.Any(latin, NumberBase.Decimal, bytes);
    }

    /// <summary>The same, where zeros in front may be missing: an odd digit counts as a byte.</summary>
    public static int NumberBytes(string text)
    {
        if (PackedBytes(text) is >= 0 and var whole)
            return whole;
        var digits = text.StartsWith("0x", StringComparison.OrdinalIgnoreCase) ? text[2..] : text;
        return IsHex(digits) && digits.Length <= 128 ? (digits.Length + 1) / 2 : -1;
    }

    /// <summary>A length of data, as tables write it; -1 when it is none.</summary>
    public static int Length(string text) => text.Length is 0 or > 8 ? -1 : RowLength.Read(Encoding.Latin1.GetBytes(text), NumberBase.Decimal, out _);

    private static long? Clock(byte[] text) => new RowTime(TimeUnit.Clock, (byte)'.', false).Read(Padded(text), text.Length, [], []);

    private static byte[] Padded(byte[] text)
    {
        var padded = new byte[text.Length + 16];
        text.CopyTo(padded, 0);
        return padded;
    }

    // Without brackets around and a unit behind.
    private static string Bare(string text)
    {
        if (text.Length >= 2 && (text[0], text[^1]) is ('(', ')') or ('[', ']'))
            text = text[1..^1].Trim();
        int end = text.Length;
        while (end > 0 && char.IsAsciiLetter(text[end - 1]))
            end--;
        return end > 0 && end < text.Length && text.Length - end <= 3 && text[..end].All(c => char.IsAsciiDigit(c) || c is '.' or ',' or ' ' or '-') ? text[..end].Trim() : text;
    }
}
