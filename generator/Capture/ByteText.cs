using System.Buffers;
using Locum.Model;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>Rows of bytes in a text.</summary>
internal static class ByteText
{
    private static readonly SearchValues<byte> s_between = SearchValues.Create(" \t-:,;|._"u8);

    /// <summary>Hexadecimal digits, two for each byte, one behind the other or with '.' between; -1 for anything else.</summary>
    /// <param name="text">The digits.</param>
    /// <param name="bytes">64 bytes.</param>
    public static int Packed(ReadOnlySpan<byte> text, Span<byte> bytes)
    {
        int count = 0;
        for (int i = 0; i < text.Length; i += 2)
        {
            if (text[i] is (byte)'.' && i > 0)
                i++;
            int high = i < text.Length ? Digits.Value(text[i]) : Digits.None;
            int low = i + 1 < text.Length ? Digits.Value(text[i + 1]) : Digits.None;
            if ((high | low) > 15 || count == FdLengths.Most)
                return -1;
            bytes[count++] = (byte)((high << 4) | low);
        }

        return count;
    }

    /// <summary>One byte: a digit or two, or up to three decimal ones; 0x in front or h behind; -1 for anything else.</summary>
    public static int One(ReadOnlySpan<byte> text, NumberBase numbers)
    {
        if (text.Length > 2 && text[0] is (byte)'0' && (text[1] | 0x20) is (byte)'x')
        {
            text = text[2..];
            numbers = NumberBase.Hex;
        }
        else if (text.Length > 1 && numbers is NumberBase.Hex && (text[^1] | 0x20) is (byte)'h')
        {
            text = text[..^1];
        }

        if (numbers is NumberBase.Decimal)
            return text.Length <= 3 && Digits.Decimal(text) is { } value and <= byte.MaxValue ? (int)value : -1;
        return text.Length <= 2 && Digits.Number(text) is { } hex ? (int)hex : -1;
    }

    /// <summary>
    /// Bytes in one field of any shape: packed digits, 0x in front, bytes with blanks, '-', ':', ',' or brackets between;
    /// -1 for anything else.
    /// </summary>
    /// <param name="text">The field.</param>
    /// <param name="numbers">How separate bytes are written.</param>
    /// <param name="bytes">64 bytes.</param>
    public static int Any(ReadOnlySpan<byte> text, NumberBase numbers, Span<byte> bytes)
    {
        text = text.Trim("[](){} \t\"'"u8);
        if (text.IsEmpty)
            return 0;
        if (text.IndexOfAny(s_between) < 0)
            return text.Length > 2 || numbers is NumberBase.Hex ? Run(text, bytes) : Separate(text, numbers, bytes);
        return Separate(text, numbers, bytes);
    }

    /// <summary>Hexadecimal digits of a number whose zeros in front are missing, padded to a length; false for anything else.</summary>
    public static bool Number(ReadOnlySpan<byte> text, int length, Span<byte> bytes)
    {
        if (text.Length > 2 && text[0] is (byte)'0' && (text[1] | 0x20) is (byte)'x')
            text = text[2..];
        if (text.IsEmpty || text.Length > 2 * length || length > FdLengths.Most)
            return false;
        Span<byte> padded = stackalloc byte[2 * FdLengths.Most];
        padded[..(2 * length)].Fill((byte)'0');
        text.CopyTo(padded[((2 * length) - text.Length)..]);
        return Packed(padded[..(2 * length)], bytes) == length;
    }

    private static int Run(ReadOnlySpan<byte> text, Span<byte> bytes)
    {
        if (text.Length > 2 && text[0] is (byte)'0' && (text[1] | 0x20) is (byte)'x')
            text = text[2..];
        else if (text.Length > 1 && (text[^1] | 0x20) is (byte)'h')
            text = text[..^1];
        if (text.Length is 1)
            return (bytes[0] = (byte)Digits.Value(text[0])) is Digits.None ? -1 : 1;
        return Packed(text, bytes);
    }

    private static int Separate(ReadOnlySpan<byte> text, NumberBase numbers, Span<byte> bytes)
    {
        // Groups of bytes, as in 0011 AABB.
        Span<byte> group = stackalloc byte[FdLengths.Most];
        int count = 0;
        while (true)
        {
            text = text.TrimStart(" \t-:,;|._"u8);
            if (text.IsEmpty)
                return count;
            int end = text.IndexOfAny(s_between);
            var part = end < 0 ? text : text[..end];
            int value = One(part, numbers);
            if (value >= 0)
            {
                if (count == FdLengths.Most)
                    return -1;
                bytes[count++] = (byte)value;
            }
            else
            {
                int run = numbers is NumberBase.Hex ? Run(part, group) : -1;
                if (run < 0 || count + run > FdLengths.Most)
                    return -1;
                group[..run].CopyTo(bytes[count..]);
                count += run;
            }

            text = text[part.Length..];
        }
    }
}
