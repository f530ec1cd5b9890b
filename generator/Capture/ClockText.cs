namespace Locum.Capture;

/// <summary>Times of day and dates.</summary>
internal static class ClockText
{
    private const long NsPerSecond = 1_000_000_000;
    private const long SecondsPerDay = 86_400;

    /// <summary>Nanoseconds since midnight of 12:34:56.789, 34:56.789, also with ',' or ':' before the fraction; null for anything else.</summary>
    public static long? OfDay(ReadOnlySpan<byte> text)
    {
        Span<ulong> parts = stackalloc ulong[4];
        int count = 0;
        long fractionNs = 0;
        while (true)
        {
            int end = text.IndexOfAnyExceptInRange((byte)'0', (byte)'9');
            var digits = end < 0 ? text : text[..end];
            if (count == 4 || Digits.Decimal(digits) is not { } value)
                return null;
            parts[count++] = value;
            if (end < 0)
                break;
            byte mark = text[end];
            text = text[(end + 1)..];
            // A fourth number behind a colon is a fraction, too.
            if (mark is (byte)'.' or (byte)',' || (mark is (byte)':' && count is 3))
            {
                if (count < 2 || Fraction(text) is not { } fraction)
                    return null;
                fractionNs = fraction;
                break;
            }

            if (mark is not (byte)':')
                return null;
        }

        if (count is < 2 or > 3 || parts[count - 1] > 60 || parts[count - 2] > 59)
            return null;
        ulong hours = count is 3 ? parts[0] : 0;
        return hours > 100_000 ? null : ((long)((hours * 3600) + (parts[count - 2] * 60) + parts[count - 1]) * NsPerSecond) + fractionNs;
    }

    /// <summary>Days since 1970 of 2024-05-06, 2024/05/06, 06.05.2024, 06/05/2024; null for anything else.</summary>
    /// <param name="text">The date.</param>
    /// <param name="monthFirst">Dates with the year behind have the month in front.</param>
    public static long? Days(ReadOnlySpan<byte> text, bool monthFirst)
    {
        if (text.Length is < 8 or > 10)
            return null;
        Span<int> parts = stackalloc int[3];
        Span<int> widths = stackalloc int[3];
        for (int i = 0; i < 3; i++)
        {
            int end = text.IndexOfAnyExceptInRange((byte)'0', (byte)'9');
            var digits = end < 0 ? text : text[..end];
            if (digits.Length is < 1 or > 4 || (end < 0) != (i is 2))
                return null;
            parts[i] = (int)Digits.Decimal(digits)!.Value;
            widths[i] = digits.Length;
            if (end >= 0 && text[end] is not ((byte)'-' or (byte)'/' or (byte)'.'))
                return null;
            text = end < 0 ? [] : text[(end + 1)..];
        }

        var (year, month, day) = widths[0] is 4 ? (parts[0], parts[1], parts[2])
            : monthFirst ? (parts[2], parts[0], parts[1]) : (parts[2], parts[1], parts[0]);
        if (Math.Max(widths[0], widths[2]) is not 4 || year is < 1900 or > 2200 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month))
            return null;
        return (long)(new DateTime(year, month, day, 0, 0, 0, DateTimeKind.Utc) - DateTime.UnixEpoch).TotalDays;
    }

    /// <summary>Nanoseconds since 1970 of a date and a time of day with T or a blank between, and perhaps a zone; null for anything else.</summary>
    public static long? DateAndTime(ReadOnlySpan<byte> text, bool monthFirst)
    {
        int between = text.IndexOfAny((byte)'T', (byte)' ', (byte)'_');
        if (between < 0 || Days(text[..between], monthFirst) is not { } days)
            return null;
        var clock = text[(between + 1)..].Trim((byte)' ');
        long zoneSeconds = 0;
        if (!clock.IsEmpty && clock[^1] is (byte)'Z')
        {
            clock = clock[..^1];
        }
        else if (clock.LastIndexOfAny((byte)'+', (byte)'-') is > 4 and var sign)
        {
            if (Zone(clock[(sign + 1)..]) is not { } zone)
                return null;
            zoneSeconds = clock[sign] is (byte)'-' ? -zone : zone;
            clock = clock[..sign];
        }

        return OfDay(clock) is { } ofDay ? (((days * SecondsPerDay) - zoneSeconds) * NsPerSecond) + ofDay : null;
    }

    private static long? Fraction(ReadOnlySpan<byte> text)
    {
        if (text.Length is 0 or > 18 || Digits.Decimal(text) is not { } value)
            return null;
        for (int i = text.Length; i < 9; i++)
            value *= 10;
        for (int i = 9; i < text.Length; i++)
            value /= 10;
        return (long)value;
    }

    private static long? Zone(ReadOnlySpan<byte> text)
    {
        if (text.Length is 5 && text[2] is (byte)':' && Digits.Decimal(text[..2]) is { } h && Digits.Decimal(text[3..]) is { } m)
            return (long)((h * 3600) + (m * 60));
        return text.Length is 4 && Digits.Decimal(text) is { } both ? (long)((both / 100 * 3600) + (both % 100 * 60)) : null;
    }
}
