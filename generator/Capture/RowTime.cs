using System.Buffers.Binary;
using Locum.Model;

namespace Locum.Capture;

/// <summary>Reads the time columns of a table. What a row shares with the row before – whole seconds, mostly – is not read again.</summary>
internal sealed class RowTime
{
    private const long NsPerSecond = 1_000_000_000;
    private const long NsPerDay = 86_400 * NsPerSecond;
    private const long NsPerHour = 3600 * NsPerSecond;
    private const int MostCached = 20;

    private readonly TimeUnit _unit;
    private readonly byte _mark;
    private readonly bool _monthFirst;
    private readonly long _unitNs;
    private readonly byte[] _whole = new byte[MostCached];
    private int _wholeLength = -1;
    private long _wholeNs;
    private int _digits;
    private long _digitNs;

    public RowTime(TimeUnit unit, byte mark, bool monthFirst)
    {
        (_unit, _mark, _monthFirst) = (unit, mark, monthFirst);
        _unitNs = NsPerUnit(unit);
    }

    /// <summary>Nanoseconds of a unit; those of a second for clocks.</summary>
    public static long NsPerUnit(TimeUnit unit) => unit switch
    {
        TimeUnit.Milliseconds => 1_000_000,
        TimeUnit.Microseconds => 1_000,
        TimeUnit.Nanoseconds => 1,
        _ => NsPerSecond,
    };

    /// <summary>Nanoseconds; null when the field is no time.</summary>
    /// <param name="text">The field, and at least 8 bytes behind it.</param>
    /// <param name="length">Bytes of the field.</param>
    /// <param name="date">A date in another column; empty when there is none.</param>
    /// <param name="fraction">Digits behind the mark in another column; empty when there is none.</param>
    public long? Read(ReadOnlySpan<byte> text, int length, ReadOnlySpan<byte> date, ReadOnlySpan<byte> fraction)
    {
        if (_unit is TimeUnit.Clock)
            return TwelveHours(text[..length], date) ?? Clock(Bare(text[..length]), date);
        if (length == _wholeLength + 1 + _digits && text[_wholeLength] == _mark && text[.._wholeLength].SequenceEqual(_whole.AsSpan(0, _wholeLength)))
        {
            int digits = Digits.Decimal(BinaryPrimitives.ReadUInt64LittleEndian(text[(_wholeLength + 1)..]), _digits);
            if (digits >= 0)
                return _wholeNs + (digits * _digitNs);
        }

        if (length is > 0 and <= 16 && fraction.IsEmpty && Whole(text, length) is >= 0 and var whole && whole <= long.MaxValue / _unitNs)
            return whole * _unitNs;
        return General(text[..length], fraction);
    }

    // Up to 16 digits and nothing else; -1 for anything else.
    private static long Whole(ReadOnlySpan<byte> text, int length)
    {
        int first = Math.Min(length, 8);
        long upper = Digits.Decimal(BinaryPrimitives.ReadUInt64LittleEndian(text), first);
        if (length <= 8 || upper < 0)
            return upper;
        long lower = Digits.Decimal(BinaryPrimitives.ReadUInt64LittleEndian(text[8..]), length - 8);
        if (lower < 0)
            return -1;
        for (int i = 8; i < length; i++)
            upper *= 10;
        return upper + lower;
    }

    private long? General(ReadOnlySpan<byte> field, ReadOnlySpan<byte> fraction)
    {
        if (!fraction.IsEmpty)
            return WithFraction(field, fraction);
        if (TimeText.Number(field, _unitNs, _mark) is { } ns)
        {
            Remember(field);
            return ns;
        }

        return TimeText.Number(Bare(field), _unitNs, _mark);
    }

    private long? WithFraction(ReadOnlySpan<byte> field, ReadOnlySpan<byte> fraction)
    {
        if (field.Length + fraction.Length >= 60)
            return null;
        Span<byte> joined = stackalloc byte[64];
        field.CopyTo(joined);
        joined[field.Length] = (byte)'.';
        fraction.CopyTo(joined[(field.Length + 1)..]);
        return TimeText.Number(joined[..(field.Length + 1 + fraction.Length)], _unitNs, (byte)'.');
    }

    private void Remember(ReadOnlySpan<byte> field)
    {
        int mark = field.IndexOf(_mark);
        int digits = field.Length - mark - 1;
        if (mark is < 1 or > MostCached || digits is < 1 or > 8 || field.IndexOfAnyExceptInRange((byte)'+', (byte)'9') >= 0 || field[0] is (byte)'-' or (byte)'+')
            return;
        long digitNs = _unitNs;
        for (int i = 0; i < digits; i++)
            digitNs /= 10;
        if (digitNs is 0 || TimeText.Number(field[..mark], _unitNs, _mark) is not { } wholeNs)
            return;
        field[..mark].CopyTo(_whole);
        (_wholeLength, _wholeNs, _digits, _digitNs) = (mark, wholeNs, digits, digitNs);
    }

    // With AM or PM behind.
    private long? TwelveHours(ReadOnlySpan<byte> text, ReadOnlySpan<byte> date)
    {
        if (text.Length < 4 || (text[^1] | 0x20) is not (byte)'m' || (text[^2] | 0x20) is not ((byte)'a' or (byte)'p'))
            return null;
        if (Clock(text[..^2].TrimEnd((byte)' '), date) is not { } ns)
            return null;
        long ofDay = ((ns % NsPerDay) + NsPerDay) % NsPerDay;
        bool noonHour = ofDay / NsPerHour is 12;
        bool afternoon = (text[^2] | 0x20) is (byte)'p';
        return ns + (afternoon && !noonHour ? NsPerDay / 2 : !afternoon && noonHour ? -NsPerDay / 2 : 0);
    }

    private long? Clock(ReadOnlySpan<byte> text, ReadOnlySpan<byte> date)
    {
        if (date.IsEmpty)
            return ClockText.OfDay(text) ?? ClockText.DateAndTime(text, _monthFirst);
        return ClockText.Days(Bare(date), _monthFirst) is { } days && ClockText.OfDay(text) is { } ofDay ? (days * NsPerDay) + ofDay : null;
    }

    // Without brackets around and a unit behind.
    private static ReadOnlySpan<byte> Bare(ReadOnlySpan<byte> text)
    {
        if (text.Length >= 2 && (text[0], text[^1]) is ((byte)'(', (byte)')') or ((byte)'[', (byte)']'))
            text = text[1..^1].Trim((byte)' ');
        int end = text.Length;
        while (end > 0 && (char.IsAsciiLetter((char)text[end - 1]) && text[end - 1] is not (byte)'Z'))
            end--;
        return text[..end].TrimEnd((byte)' ');
    }
}
