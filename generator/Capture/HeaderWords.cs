using System.Globalization;
using System.Text.RegularExpressions;
using Locum.Model;

namespace Locum.Capture;

/// <summary>Names that columns of frames commonly have (common practice, no source).</summary>
internal static partial class HeaderWords
{
    private static readonly Dictionary<string, ColumnRole> s_roles = Table(
        (ColumnRole.Time, "time timestamp timestamps ts t times timeoffset timeabs timerel abstime reltime absolutetime relativetime end endtime start starttime epoch seconds sec systemtime utc zeit zeitstempel temps datetime"),
        (ColumnRole.Date, "date datum day"),
        (ColumnRole.Id, "id canid arbitrationid arbid arb identifier ident msgid messageid frameid canidentifier canmsgid pgnid address addr cob cobid idhex hexid iddec"),
        (ColumnRole.Extended, "extended ext ide isextended isextendedid extendedid eff xtd isext extid extendedframe extframe"),
        (ColumnRole.Bus, "bus channel chan chn ch chl interface iface port network busid buschannel canchannel canbus busname busno channelid line kanal node"),
        (ColumnRole.Length, "length len dlc dl datalength datalen size numbytes nbytes bytecount payloadlength laenge"),
        (ColumnRole.Data, "data payload databytes bytes datahex hexdata canbytes candata rawdata raw msgdata framedata daten databyte payloadhex datafield"),
        (ColumnRole.Kind, "type frametype kind format frameformat dr idtype framekind idformat canformat flag flags typ"),
        (ColumnRole.Remote, "remote rtr isremote isremoteframe remoteframe"),
        (ColumnRole.Error, "error err iserror iserrorframe errorframe"),
        (ColumnRole.Fd, "fd fdf edl isfd canfd iscanfd fdframe"),
        (ColumnRole.RateSwitched, "brs bitrateswitch rateswitch"),
        (ColumnRole.ErrorPassive, "esi errorstateindicator errorpassive"),
        (ColumnRole.Other, "dir direction rxtx txrx isrx rx tx no nr num number index idx count counter seq sequence row sender name label class comment note source src destination pgn prio priority crc checksum delta deltatime dt timedelta period cycle cycletime ascii acceptedus startus"));

    /// <summary>What a name says; null when it is not known.</summary>
    public static HeaderWord? Of(string name)
    {
        name = name.Trim().Trim('#', ';', '%', '"', ':').Trim();
        if (name.Length is 0 or > 48 || char.IsAsciiDigit(name[0]))
            return null;
        var unit = UnitOf(name, out string bare);
        NumberBase? numbers = BaseWord().IsMatch(name) ? NumberBase.Hex : DecimalWord().IsMatch(name) ? NumberBase.Decimal : null;
        if (numbers is not null)
            bare = Brackets().Replace(bare, "");
        string plain = NotLetters().Replace(bare, "").ToLowerInvariant();
        if (ByteName().Match(bare) is { Success: true } match)
            return new HeaderWord(ColumnRole.Byte, null, numbers, int.Parse(match.Groups[1].ValueSpan, CultureInfo.InvariantCulture));
        if (s_roles.TryGetValue(plain, out var role))
            return new HeaderWord(role, role is ColumnRole.Time or ColumnRole.Other ? unit : null, numbers, -1);
        // Without the unit nothing may be left, as in "ms".
        if (plain.Length is 0 && unit is not null)
            return new HeaderWord(ColumnRole.Time, unit, null, -1);
        // Names such as "CAN 1 ID" and "Message ID (hex)" end with what they are.
        return LastWord(bare) is { } last && s_roles.TryGetValue(last, out role) && role is not (ColumnRole.Other or ColumnRole.Kind)
            ? new HeaderWord(role, role is ColumnRole.Time ? unit : null, numbers, -1) : null;
    }

    private static string? LastWord(string text)
    {
        var words = Camel().Replace(text, " ").Split([' ', '_', '-', '.', '/'], StringSplitOptions.RemoveEmptyEntries);
        return words.Length > 1 ? NotLetters().Replace(words[^1], "").ToLowerInvariant() : null;
    }

    private static TimeUnit? UnitOf(string name, out string bare)
    {
        var match = UnitWord().Match(name);
        bare = match.Success ? name[..match.Index] : name;
        if (!match.Success)
            return null;
        return match.Groups[1].Value.ToLowerInvariant() switch
        {
            "s" or "sec" or "secs" or "seconds" => TimeUnit.Seconds,
            "ms" or "msec" or "millis" or "milliseconds" => TimeUnit.Milliseconds,
            "us" or "usec" or "micros" or "microseconds" or "µs" or "μs" or "\ufffds" => TimeUnit.Microseconds,
            _ => TimeUnit.Nanoseconds,
        };
    }

    private static Dictionary<string, ColumnRole> Table(params (ColumnRole Role, string Names)[] rows) =>
        rows.SelectMany(r => r.Names.Split(' ').Select(n => (Name: n, r.Role))).ToDictionary(n => n.Name, n => n.Role, StringComparer.Ordinal);

    // A unit in brackets, or behind a blank, an underscore or a capital: Time (ms), time_us, TimeMs.
    [GeneratedRegex(@"(?:[\[\(\{<]\s*|[ _/\-]|^|(?-i:(?<=[a-z])(?=[A-Z])))(s|secs?|seconds|ms|msec|millis|milliseconds|us|µs|μs|\ufffds|usec|micros|microseconds|ns|nsec|nanos|nanoseconds)\s*[\]\)\}>]?$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex UnitWord();

    [GeneratedRegex(@"\bhex|hex\b|_hex|\(h\)|\[h\]", RegexOptions.IgnoreCase)]
    private static partial Regex BaseWord();

    [GeneratedRegex(@"\bdec(imal)?\b|_dec\b|\(d\)|\[d\]", RegexOptions.IgnoreCase)]
    private static partial Regex DecimalWord();

    [GeneratedRegex(@"[\[\(\{<].*?[\]\)\}>]|[ _]?(hex|dec(imal)?)$", RegexOptions.IgnoreCase)]
    private static partial Regex Brackets();

    [GeneratedRegex("(?<=[a-z])(?=[A-Z])")]
    private static partial Regex Camel();

    [GeneratedRegex("[^A-Za-z]")]
    private static partial Regex NotLetters();

    // D0, d[1], Data 2, DATA[03], byte_4, B5, DB6, Data Byte 7.
    [GeneratedRegex(@"^(?:d|b|db|data|byte|bytes|payload|databyte|data byte)[ _\-]*[\[\(\{]?\s*(\d{1,2})\s*[\]\)\}]?$", RegexOptions.IgnoreCase)]
    private static partial Regex ByteName();
}
