using System.Runtime.CompilerServices;

namespace Locum.Capture;

/// <summary>Where the fields of a row lie.</summary>
internal sealed class RowFields
{
    /// <summary>Bytes behind a row that must be readable.</summary>
    public const int Slack = 32;

    /// <summary>A row with more fields is no row.</summary>
    public const int Most = 192;

    /// <summary>First byte of each field.</summary>
    public int[] Starts { get; } = new int[Most];

    /// <summary>The byte behind each field.</summary>
    public int[] Ends { get; } = new int[Most];

    /// <summary>Number of fields.</summary>
    public int Count { get; set; }

    /// <summary>A field; empty when the row has fewer.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public ReadOnlySpan<byte> Of(ReadOnlySpan<byte> text, int field) =>
        (uint)field < (uint)Count ? text[Starts[field]..Ends[field]] : [];

    /// <summary>Bytes of a field; 0 when the row has fewer fields.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public int LengthOf(int field) => (uint)field < (uint)Count ? Ends[field] - Starts[field] : 0;

    /// <summary>Splits a row of any shape: quotes, blanks around fields, a separator at the end.</summary>
    /// <param name="text">The row, and what follows it.</param>
    /// <param name="length">Bytes of the row.</param>
    /// <param name="separator">A blank stands for any run of blanks, tabs and '=', as in id=123.</param>
    public void Split(ReadOnlySpan<byte> text, int length, byte separator)
    {
        Count = 0;
        int at = 0;
        bool blanks = separator is (byte)' ';
        while (Count < Most)
        {
            while (at < length && IsBlank(text[at], separator))
                at++;
            if (at >= length && blanks)
                return;
            int end = at < length && text[at] is (byte)'"' ? Quoted(text, at, length, separator) : Plain(text, at, length, separator);
            Add(text, at, end);
            if (end >= length)
                return;
            at = end + 1;
        }
    }

    private static bool IsBlank(byte character, byte separator) =>
        character is (byte)' ' or (byte)'\r' || (character is (byte)'\t' && separator is not (byte)'\t') || (character is (byte)'=' && separator is (byte)' ');

    private static int Plain(ReadOnlySpan<byte> text, int at, int length, byte separator)
    {
        var rest = text[at..length];
        int end = separator is (byte)' ' ? rest.IndexOfAny((byte)' ', (byte)'\t', (byte)'=') : rest.IndexOf(separator);
        return end < 0 ? length : at + end;
    }

    // Behind the closing quote; a quote that never closes is a character like others.
    private static int Quoted(ReadOnlySpan<byte> text, int at, int length, byte separator)
    {
        for (int i = at + 1; i < length; i++)
        {
            if (text[i] is not (byte)'"')
                continue;
            if (i + 1 < length && text[i + 1] is (byte)'"')
                i++;
            else
                return Plain(text, i + 1, length, separator);
        }

        return Plain(text, at, length, separator);
    }

    private void Add(ReadOnlySpan<byte> text, int start, int end)
    {
        while (end > start && text[end - 1] is (byte)' ' or (byte)'\t' or (byte)'\r')
            end--;
        if (end - start >= 2 && text[start] is (byte)'"' or (byte)'\'' && text[end - 1] == text[start])
        {
            start++;
            end--;
            while (start < end && text[start] is (byte)' ')
                start++;
            while (end > start && text[end - 1] is (byte)' ')
                end--;
        }

        Starts[Count] = start;
        Ends[Count] = end;
        Count++;
    }
}
