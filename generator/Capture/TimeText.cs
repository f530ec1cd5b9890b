namespace Locum.Capture;

/// <summary>Times written as decimal numbers.</summary>
internal static class TimeText
{
    private const long NsPerSecond = 1_000_000_000;

    /// <summary>Seconds with a decimal point, as nanoseconds; null for anything else, and beyond 292 years.</summary>
    public static long? Seconds(ReadOnlySpan<byte> text) => Number(text, NsPerSecond, (byte)'.');

    /// <summary>True for a sign, digits, and perhaps a point with digits.</summary>
    public static bool IsDecimal(ReadOnlySpan<byte> text) => Number(text, 1, (byte)'.') is not null;

    /// <summary>A decimal number of units, as nanoseconds, what is finer cut off; null for anything else, and beyond 292 years.</summary>
    /// <param name="text">Sign, digits, a mark and digits behind it, a power of ten as in 1.5e9.</param>
    /// <param name="unitNs">Nanoseconds of a unit.</param>
    /// <param name="mark">Decimal point or comma.</param>
    public static long? Number(ReadOnlySpan<byte> text, long unitNs, byte mark)
    {
        bool negative = !text.IsEmpty && text[0] is (byte)'-';
        if (negative || (!text.IsEmpty && text[0] is (byte)'+'))
            text = text[1..];
        int digits = 0;
        int power = 0;
        int at = 0;
        ulong number = 0;
        bool behind = false;
        for (; at < text.Length; at++)
        {
            uint digit = (uint)text[at] - '0';
            if (digit <= 9)
            {
                digits++;
                if (number >= 1_000_000_000_000_000_000)
                {
                    // More digits than can matter: those behind the mark are cut off.
                    power += behind ? 0 : 1;
                    continue;
                }

                number = (number * 10) + digit;
                power -= behind ? 1 : 0;
            }
            else if (text[at] == mark && !behind)
            {
                behind = true;
            }
            else
            {
                break;
            }
        }

        if (digits is 0)
            return null;
        if (at < text.Length && Exponent(text[at..]) is { } exponent)
            power += exponent;
        else if (at < text.Length)
            return null;
        return Scale(number, power, unitNs) is { } ns ? negative ? -ns : ns : null;
    }

    private static int? Exponent(ReadOnlySpan<byte> text)
    {
        if (text.Length < 2 || text[0] is not ((byte)'e' or (byte)'E'))
            return null;
        bool negative = text[1] is (byte)'-';
        var digits = text[(text[1] is (byte)'-' or (byte)'+' ? 2 : 1)..];
        if (digits.Length is 0 or > 2 || digits.IndexOfAnyExceptInRange((byte)'0', (byte)'9') >= 0)
            return null;
        int value = digits.Length is 1 ? digits[0] - '0' : ((digits[0] - '0') * 10) + digits[1] - '0';
        return negative ? -value : value;
    }

    private static long? Scale(ulong number, int power, long unitNs)
    {
        var scaled = (UInt128)number * (ulong)unitNs;
        for (; power < 0 && scaled > 0; power++)
            scaled /= 10;
        for (; power > 0 && scaled > 0; power--)
        {
            scaled *= 10;
            if (scaled > long.MaxValue)
                return null;
        }

        return scaled <= long.MaxValue ? (long)scaled : null;
    }
}
