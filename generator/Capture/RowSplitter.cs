using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Locum.Capture;

/// <summary>
/// Finds fields and end of a usual row by comparing 64 bytes at once. Quotes, blanks around fields and rows of more than
/// <see cref="Reach"/> bytes are left to <see cref="RowFields.Split"/>.
/// </summary>
internal sealed class RowSplitter(RowFields fields, byte separator)
{
    /// <summary>Bytes looked at, at most; so many must be readable.</summary>
    public const int Reach = 4 * Block;

    private const int Block = 64;

    private readonly bool _blanks = separator is (byte)' ';

    /// <summary>Splits the row at the start of a text; its bytes without the line feed, or -1 when it is too long.</summary>
    /// <param name="text">At least <see cref="Reach"/> bytes.</param>
    public int Split(ReadOnlySpan<byte> text) => _blanks ? Words(text) : Columns(text);

    private int Columns(ReadOnlySpan<byte> text)
    {
        ref int starts = ref MemoryMarshal.GetArrayDataReference(fields.Starts);
        ref int ends = ref MemoryMarshal.GetArrayDataReference(fields.Ends);
        var mark = Vector256.Create(separator);
        int count = 0;
        starts = 0;
        for (int at = 0; at < Reach; at += Block)
        {
            var (first, second) = Load(text, at);
            ulong lines = Bits(first, second, Vector256.Create((byte)'\n'));
            ulong marks = Bits(first, second, mark);
            // Separators in front of the line feed.
            marks &= lines ^ (lines - 1);
            // What is written below stays inside the arrays.
            if (count + BitOperations.PopCount(marks) >= RowFields.Most - 1)
                return -1;
            for (; marks is not 0; marks &= marks - 1)
            {
                int place = at + BitOperations.TrailingZeroCount(marks);
                Unsafe.Add(ref ends, count++) = place;
                Unsafe.Add(ref starts, count) = place + 1;
            }

            if (lines is not 0)
                return Finish(text, at + BitOperations.TrailingZeroCount(lines), count);
        }

        return -1;
    }

    private int Words(ReadOnlySpan<byte> text)
    {
        ref int starts = ref MemoryMarshal.GetArrayDataReference(fields.Starts);
        ref int ends = ref MemoryMarshal.GetArrayDataReference(fields.Ends);
        int count = 0;
        int open = 0;
        ulong before = 0;
        for (int at = 0; at < Reach; at += Block)
        {
            var (first, second) = Load(text, at);
            ulong lines = Bits(first, second, Vector256.Create((byte)'\n'));
            ulong blanks = lines
                | Bits(first, second, Vector256.Create((byte)' '))
                | Bits(first, second, Vector256.Create((byte)'\t'))
                | Bits(first, second, Vector256.Create((byte)'\r'))
                | Bits(first, second, Vector256.Create((byte)'='));
            ulong words = ~blanks;
            // Places where a word starts, and where one has ended.
            ulong edges = words ^ ((words << 1) | before);
            edges &= lines ^ (lines - 1);
            before = words >> 63;
            if (count + BitOperations.PopCount(edges) >= RowFields.Most - 1)
                return -1;
            for (; edges is not 0; edges &= edges - 1)
            {
                int place = at + BitOperations.TrailingZeroCount(edges);
                // A start is overwritten by nothing, an end completes a field.
                Unsafe.Add(ref open is 0 ? ref starts : ref ends, count) = place;
                count += open;
                open ^= 1;
            }

            if (lines is not 0)
            {
                fields.Count = count;
                return at + BitOperations.TrailingZeroCount(lines);
            }
        }

        return -1;
    }

    private int Finish(ReadOnlySpan<byte> text, int end, int count)
    {
        fields.Ends[count] = end > 0 && text[end - 1] is (byte)'\r' && fields.Starts[count] < end ? end - 1 : end;
        fields.Count = count + 1;
        return end;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static (Vector256<byte> First, Vector256<byte> Second) Load(ReadOnlySpan<byte> text, int at) =>
        (Vector256.Create(text.Slice(at, 32)), Vector256.Create(text.Slice(at + 32, 32)));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong Bits(Vector256<byte> first, Vector256<byte> second, Vector256<byte> wanted) =>
        Vector256.Equals(first, wanted).ExtractMostSignificantBits() | ((ulong)Vector256.Equals(second, wanted).ExtractMostSignificantBits() << 32);
}
