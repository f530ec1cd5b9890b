using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Locum.Capture;

/// <summary>Digits to numbers, without branches where many are read.</summary>
internal static class Digits
{
    /// <summary>What <see cref="Value"/> gives for anything that is no digit.</summary>
    public const byte None = 0xFF;

    /// <summary>Digits that <see cref="Decode"/> looks at.</summary>
    public const int Block = 16;

    private static readonly byte[] s_values = Table();

    /// <summary>0 to 15, or <see cref="None"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static int Value(byte character) => s_values[character];

    /// <summary>
    /// Turns up to 16 digits into bytes, the first digit of each pair being the high one. Returns the number of digits
    /// in front of the first character that is none; the bytes behind them mean nothing.
    /// </summary>
    /// <param name="text">At least 16 bytes.</param>
    /// <param name="bytes">At least 8 bytes.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static int Decode(ReadOnlySpan<byte> text, Span<byte> bytes) => Decode(Vector128.Create(text), bytes);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int Decode(Vector128<byte> characters, Span<byte> bytes)
    {
        var lower = characters | Vector128.Create((byte)0x20);
        var number = characters - Vector128.Create((byte)'0');
        var letter = lower - Vector128.Create((byte)'a');
        var isNumber = Vector128.LessThan(number, Vector128.Create((byte)10));
        var isLetter = Vector128.LessThan(letter, Vector128.Create((byte)6));
        // What is no digit keeps out of the digit it shares a byte with.
        var values = (Vector128.ConditionalSelect(isNumber, number, letter + Vector128.Create((byte)10)) & Vector128.Create((byte)0x0F)).AsUInt16();
        var pairs = ((values << 4) | (values >> 8)) & Vector128.Create((ushort)0xFF);
        Vector128.Narrow(pairs, pairs).GetLower().CopyTo(bytes);
        uint digits = (isNumber | isLetter).ExtractMostSignificantBits();
        return (int)uint.TrailingZeroCount(~digits);
    }

    /// <summary>
    /// Turns up to 8 bytes of two digits with one character between each into bytes. Returns the number of bytes in front
    /// of the first that is none.
    /// </summary>
    /// <param name="text">At least 24 bytes.</param>
    /// <param name="bytes">At least 8 bytes.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static int DecodeSpaced(ReadOnlySpan<byte> text, Span<byte> bytes)
    {
        // The digits of four bytes from the first 16 characters, of four more from those behind the eighth.
        var first = Vector128.Shuffle(Vector128.Create(text), Vector128.Create((byte)0, 1, 3, 4, 6, 7, 9, 10, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF));
        var second = Vector128.Shuffle(Vector128.Create(text[8..]), Vector128.Create((byte)0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 4, 5, 7, 8, 10, 11, 13, 14));
        return Decode(first | second, bytes) / 2;
    }

    /// <summary>A number of 1 to 8 digits; null for anything else.</summary>
    public static uint? Number(ReadOnlySpan<byte> text)
    {
        if (text.Length is 0 or > 8)
            return null;
        uint number = 0;
        foreach (byte character in text)
        {
            int value = Value(character);
            if (value is None)
                return null;
            number = (number << 4) | (uint)value;
        }

        return number;
    }

    /// <summary>A decimal number of 1 to 18 digits; null for anything else.</summary>
    public static ulong? Decimal(ReadOnlySpan<byte> text)
    {
        if (text.Length is 0 or > 18)
            return null;
        ulong number = 0;
        foreach (byte character in text)
        {
            uint digit = (uint)character - '0';
            if (digit > 9)
                return null;
            number = (number * 10) + digit;
        }

        return number;
    }

    /// <summary>A decimal number of up to 8 digits, all at once; -1 when one of them is none.</summary>
    /// <param name="text">8 bytes, the first one lowest; those behind the digits do not matter.</param>
    /// <param name="count">Digits, 1 to 8.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static int Decimal(ulong text, int count)
    {
        // Missing digits in front count as 0.
        int shift = (8 - count) * 8;
        ulong digits = (text << shift) ^ (0x3030_3030_3030_3030ul << shift);
        if (((digits | (digits + 0x0606_0606_0606_0606)) & 0xF0F0_F0F0_F0F0_F0F0) is not 0)
            return -1;
        // Neighbours become pairs, pairs fours, fours the number.
        digits = (digits * 10) + (digits >> 8);
        ulong upper = (digits & 0x0000_00FF_0000_00FF) * (100 + (1_000_000ul << 32));
        ulong lower = ((digits >> 16) & 0x0000_00FF_0000_00FF) * (1 + (10_000ul << 32));
        return (int)((upper + lower) >> 32);
    }

    private static byte[] Table()
    {
        var values = new byte[256];
        Array.Fill(values, None);
        for (int i = 0; i < 16; i++)
        {
            values["0123456789abcdef"[i]] = (byte)i;
            values["0123456789ABCDEF"[i]] = (byte)i;
        }

        return values;
    }
}
