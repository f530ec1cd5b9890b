using Locum.Model;

namespace Locum.Pages;

/// <summary>The bits of a payload as a grid: a row for each byte, bit 7 at the left, runs of a field joined.</summary>
internal sealed record PayloadMap(IReadOnlyList<MapRow> Rows, int Height)
{
    private const int RowHeight = 26;
    private const int Top = 20;
    private const int BitsPerByte = 8;

    /// <param name="frame">A frame without pages, or one of its variants.</param>
    /// <param name="numbers">The number of each field in the table beside the map.</param>
    public static PayloadMap Of(Frame frame, IReadOnlyDictionary<Field, int> numbers)
    {
        var owner = new Field?[frame.Length * BitsPerByte];
        var place = new int[owner.Length];
        foreach (var field in frame.Fields)
            foreach (var (position, bit) in field.Positions().Select((p, i) => (p, i)))
                if (position >= 0 && position < owner.Length)
                    (owner[position], place[position]) = (field, bit);
        return new PayloadMap([.. Enumerable.Range(0, frame.Length).Select(b => new MapRow(b, Top + (b * RowHeight), [.. Cells(frame, b, owner, place, numbers)]))], Top + (frame.Length * RowHeight));
    }

    private static IEnumerable<MapCell> Cells(Frame frame, int index, Field?[] owner, int[] place, IReadOnlyDictionary<Field, int> numbers)
    {
        for (var high = BitsPerByte - 1; high >= 0;)
        {
            var field = owner[(index * BitsPerByte) + high];
            var low = high;
            while (low > 0 && owner[(index * BitsPerByte) + low - 1] == field)
                low--;
            yield return field is null ? Constant(frame.Base[index], high, low) : Of(field, numbers[field], high, low, place[(index * BitsPerByte) + high], place[(index * BitsPerByte) + low]);
            high = low - 1;
        }
    }

    private static MapCell Of(Field field, int number, int high, int low, int top, int bottom)
    {
        var bits = top == bottom ? $"bit {top}" : $"bits {top} to {bottom}";
        return new MapCell(Left(high), Width(high, low), FieldWords.Kind(field.Source), $"{number} {field.Name}", field.Bits == Math.Abs(top - bottom) + 1 ? $"{field.Name}, whole" : $"{field.Name}, {bits}");
    }

    private static MapCell Constant(byte value, int high, int low) =>
        new(Left(high), Width(high, low), "base", string.Concat(Enumerable.Range(low, high - low + 1).Reverse().Select(b => value >> b & 1)), "always these bits");

    private static string Left(int high) => Percent(BitsPerByte - 1 - high);

    private static string Width(int high, int low) => Percent(high - low + 1);

    private static string Percent(int bits) => $"{bits * 100.0 / BitsPerByte:0.##}%";
}

/// <summary>A byte of the map.</summary>
internal sealed record MapRow(int Byte, int Y, IReadOnlyList<MapCell> Cells);

/// <summary>A run of bits that belong together.</summary>
/// <param name="X">Left edge, with its unit.</param>
/// <param name="Kind">Where the value comes from, in a word.</param>
internal sealed record MapCell(string X, string Width, string Kind, string Label, string Hint);
