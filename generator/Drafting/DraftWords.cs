using System.Globalization;
using Locum.Inference;

namespace Locum.Drafting;

/// <summary>Numbers, times and places as descriptions write them.</summary>
internal static class DraftWords
{
    private const long Millisecond = 1_000;
    private const long Second = 1_000_000;

    /// <summary>A time for a description: whole microseconds in the largest unit that stays short.</summary>
    public static string Time(long us) => us is not 0 && us % (100 * Millisecond) is 0 && us >= Second ? Text($"{us / (decimal)Second:0.#} s")
        : us is 0 || us >= Millisecond ? Text($"{us / (decimal)Millisecond:0.###} ms")
        : Text($"{us} us");

    /// <summary>A measured time for people, with up to four decimals of a millisecond.</summary>
    public static string Measured(double us) => us < 100 ? Text($"{us:0} us") : Text($"{us / Millisecond:0.####} ms");

    /// <summary>A small time for people, to two digits.</summary>
    public static string Rough(double us) => us < Millisecond ? Text($"{us:0} us") : Text($"{us / Millisecond:0.#} ms");

    /// <summary>A moment in the recording, in seconds.</summary>
    public static string Moment(long us) => Text($"{us / (double)Second:0.000} s");

    /// <summary>A bit rate for a description.</summary>
    public static string Rate(int rate) => rate % 1_000_000 is 0 ? Text($"{rate / 1_000_000} Mbit/s") : Text($"{rate / 1_000m:0.###} kbit/s");

    /// <summary>The keys of a place.</summary>
    public static string Place(FieldPlace place) => Text($"bit: {place.Bit}, bits: {place.Bits}{(place.BigEndian ? ", order: big" : "")}");

    /// <summary>Bytes as descriptions write them.</summary>
    public static string Bytes(ReadOnlySpan<byte> data)
    {
        var parts = new string[data.Length];
        for (int i = 0; i < data.Length; i++)
            parts[i] = data[i].ToString("X2", CultureInfo.InvariantCulture);
        return string.Join(' ', parts);
    }

    /// <summary>A number without a culture.</summary>
    public static string Text(FormattableString text) => FormattableString.Invariant(text);

    /// <summary>1 frame, 2 frames; of several words the first one gets the s.</summary>
    public static string Count(long number, string what)
    {
        int end = what.IndexOf(' ', StringComparison.Ordinal);
        string plural = end < 0 ? $"{what}s" : $"{what[..end]}s{what[end..]}";
        return Text($"{number} {(number is 1 ? what : plural)}");
    }
}
