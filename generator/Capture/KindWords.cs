using System.Buffers.Binary;
using System.Text;

namespace Locum.Capture;

/// <summary>Words by which tables tell kinds of frames, and how they say yes and no.</summary>
internal static class KindWords
{
    private static readonly Dictionary<string, FrameTraits> s_kinds = new(StringComparer.OrdinalIgnoreCase)
    {
        ["d"] = FrameTraits.None,
        ["data"] = FrameTraits.None,
        ["dataframe"] = FrameTraits.None,
        ["data frame"] = FrameTraits.None,
        ["s"] = FrameTraits.None,
        ["std"] = FrameTraits.None,
        ["standard"] = FrameTraits.None,
        ["classic"] = FrameTraits.None,
        ["can"] = FrameTraits.None,
        ["11"] = FrameTraits.None,
        ["11 bit"] = FrameTraits.None,
        ["11bit"] = FrameTraits.None,
        ["base"] = FrameTraits.None,
        ["x"] = FrameTraits.Extended,
        ["ext"] = FrameTraits.Extended,
        ["extended"] = FrameTraits.Extended,
        ["29"] = FrameTraits.Extended,
        ["29 bit"] = FrameTraits.Extended,
        ["29bit"] = FrameTraits.Extended,
        ["r"] = FrameTraits.Remote,
        ["rtr"] = FrameTraits.Remote,
        ["remote"] = FrameTraits.Remote,
        ["remoteframe"] = FrameTraits.Remote,
        ["remote frame"] = FrameTraits.Remote,
        ["e"] = FrameTraits.Error,
        ["err"] = FrameTraits.Error,
        ["error"] = FrameTraits.Error,
        ["errorframe"] = FrameTraits.Error,
        ["error frame"] = FrameTraits.Error,
        ["fd"] = FrameTraits.Fd,
        ["canfd"] = FrameTraits.Fd,
        ["can fd"] = FrameTraits.Fd,
        ["fdf"] = FrameTraits.Fd,
        ["fd-switched"] = FrameTraits.Fd | FrameTraits.RateSwitched,
        ["fdbrs"] = FrameTraits.Fd | FrameTraits.RateSwitched,
        ["fd brs"] = FrameTraits.Fd | FrameTraits.RateSwitched,
        ["brs"] = FrameTraits.Fd | FrameTraits.RateSwitched,
        ["extendedremote"] = FrameTraits.Extended | FrameTraits.Remote,
    };

    private static readonly string[] s_yes = ["1", "true", "yes", "y", "t"];

    private static readonly string[] s_no = ["0", "false", "no", "n", "f", "-", ""];

    /// <summary>What a word says of a frame; null when it is not known.</summary>
    public static FrameTraits? Traits(string word) => s_kinds.TryGetValue(word.Trim(), out var traits) ? traits : null;

    /// <summary>The same for bytes.</summary>
    public static FrameTraits? Traits(ReadOnlySpan<byte> word) => word.Length switch
    {
        1 when word[0] is (byte)'d' or (byte)'D' => FrameTraits.None,
        > 0 and <= 16 => Traits(Encoding.Latin1.GetString(word)),
        _ => null,
    };

    /// <summary>Whether a column says yes, in its own words or those of kinds; null when it says nothing known.</summary>
    /// <param name="word">What stands in the column.</param>
    /// <param name="asked">What yes would mean.</param>
    public static bool? Says(ReadOnlySpan<byte> word, FrameTraits asked)
    {
        if (word.IsEmpty)
            return false;
        if (word.Length is 1 && word[0] is (byte)'0' or (byte)'1')
            return word[0] is (byte)'1';
        if (word.Length is 4 or 5)
        {
            // The commonest words without a table: four letters in lower case as a number.
            uint letters = BinaryPrimitives.ReadUInt32LittleEndian(word) | 0x2020_2020;
            if (word.Length is 4 && letters is 0x6575_7274)
                return true;
            if (word.Length is 5 && letters is 0x736C_6166 && (word[4] | 0x20) is (byte)'e')
                return false;
        }

        return word.Length > 16 ? null : Says(Encoding.Latin1.GetString(word), asked);
    }

    /// <summary>The same for text.</summary>
    public static bool? Says(string word, FrameTraits asked)
    {
        word = word.Trim();
        if (s_yes.Contains(word, StringComparer.OrdinalIgnoreCase))
            return true;
        if (s_no.Contains(word, StringComparer.OrdinalIgnoreCase))
            return false;
        return Traits(word) is { } traits ? (traits & asked) is not 0 : null;
    }

    /// <summary>True for words by which loggers mark an error in the place of an identifier.</summary>
    public static bool IsError(ReadOnlySpan<byte> word)
    {
        if (word.Length is < 3 or > 24)
            return false;
        return Encoding.Latin1.GetString(word).Contains("error", StringComparison.OrdinalIgnoreCase);
    }
}
