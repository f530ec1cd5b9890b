using Locum.Model;

namespace Locum.Capture;

/// <summary>Finds length and data bytes of a table by their contents: a number, and so many bytes.</summary>
internal static class DataFinder
{
    private const double Enough = 0.8;

    // What fills columns behind the bytes of a frame.
    private static readonly string[] s_padding = ["00", "0", "FF", "ff", "255", "0x00", "0xFF", "AA", "55", "CC"];

    /// <summary>The place that most rows agree with; null when there is none.</summary>
    /// <param name="table">The rows.</param>
    /// <param name="columns">What their columns have in common.</param>
    /// <param name="taken">Columns that hold something else for sure.</param>
    /// <param name="known">Column that is known to hold the length; -1 when none is.</param>
    public static DataPlace? Find(SampleTable table, IReadOnlyList<ColumnStats> columns, IReadOnlySet<int> taken, int known)
    {
        var found = WithLength(table, columns, taken, known).Concat(Packed(table, columns, taken)).Concat(WithoutLength(table, columns, taken))
            .Where(p => p.Share >= Enough)
            .ToList();
        if (found.Count is 0)
            return null;
        return found
            .OrderByDescending(p => p.Length >= 0)
            .ThenByDescending(p => Math.Round(p.Share, 1))
            .ThenByDescending(p => Math.Round(p.Explained))
            .ThenBy(p => p.Behind)
            .ThenBy(p => Math.Abs(p.First - p.Length - 1))
            .ThenByDescending(p => p.Length >= 0 ? columns[p.Length].Distinct : columns[p.First].Distinct)
            .ThenBy(p => p.Packed)
            .ThenBy(p => p.First)
            .First();
    }

    private static IEnumerable<DataPlace> WithLength(SampleTable table, IReadOnlyList<ColumnStats> columns, IReadOnlySet<int> taken, int known)
    {
        for (int length = 1; length < columns.Count; length++)
        {
            if (taken.Contains(length) || columns[length].LengthShare < Enough)
                continue;
            for (int first = length + 1; first < Math.Min(columns.Count, length + 5); first++)
            {
                if (!taken.Contains(first) && Single(table, columns, length, first, known) is { } place)
                    yield return place;
            }
        }
    }

    private static DataPlace? Single(SampleTable table, IReadOnlyList<ColumnStats> columns, int length, int first, int known)
    {
        int agree = 0;
        int asked = 0;
        int exact = 0;
        double explained = 0;
        var behind = new Dictionary<int, int>();
        foreach (var row in table.Typical)
        {
            int count = length < row.Fields.Length ? Token.Length(row.Fields[length]) : -1;
            if (count < 0)
                continue;
            asked += count > 0 ? 1 : 0;
            int end = first + count;
            if (end > row.Fields.Length || !row.Fields[first..end].All(Token.IsByte))
                continue;
            agree++;
            explained += count;
            int rest = row.Fields.Length - end;
            exact += row.Fields[end..].All(f => f.Length is 0 || !Token.IsByte(f) || s_padding.Contains(f)) ? 1 : 0;
            behind[rest] = behind.GetValueOrDefault(rest) + 1;
        }

        // Zeros agree with anything.
        if (2 * asked < table.Typical.Count || agree is 0)
            return null;
        double share = (double)agree / table.Typical.Count;
        // Bytes that are there although the length does not ask for them speak against it, unless the columns are always there.
        bool isFixed = !table.IsBlanks && Fixed(table, columns, first) is > 0 and var width && table.Typical.All(r => r.Fields.Length <= first + width || r.Fields.Length == table.Width);
        if (exact < Enough * agree && (isFixed || behind.Values.Max() < Enough * agree) && length != known)
            return null;
        if (isFixed && behind.Count > 1 && behind.Values.Max() >= Enough * agree && behind.Keys.Max() > 0 && table.Typical.Select(r => r.Fields.Length).Distinct().Count() > 1)
            isFixed = false;
        if (isFixed)
            return new DataPlace(length, first, false, Fixed(table, columns, first), 0, share) { Explained = explained / agree };
        var (most, rows) = behind.MaxBy(b => b.Value);
        return new DataPlace(length, first, false, 0, rows >= Enough * agree ? most : 0, share) { Explained = explained / agree };
    }

    // Columns of bytes side by side.
    private static int Fixed(SampleTable table, IReadOnlyList<ColumnStats> columns, int first)
    {
        int count = 0;
        while (first + count < columns.Count && count < 64 && (columns[first + count].IsEmpty || columns[first + count].ByteShare >= Enough))
            count++;
        return count;
    }

    private static IEnumerable<DataPlace> Packed(SampleTable table, IReadOnlyList<ColumnStats> columns, IReadOnlySet<int> taken)
    {
        for (int data = 1; data < columns.Count; data++)
        {
            if (taken.Contains(data))
                continue;
            var sizes = columns[data].Fields.Select(f => f.Length is 0 ? 0 : Token.NumberBytes(f)).ToList();
            bool whole = columns[data].Filled.All(f => Token.PackedBytes(f) >= 0);
            if (sizes.Count(s => s >= 0) < Enough * sizes.Count || sizes.Max() < 2)
                continue;
            for (int length = 1; length < columns.Count; length++)
            {
                if (length == data || taken.Contains(length) || columns[length].LengthShare < Enough)
                    continue;
                var pairs = columns[length].Fields.Select((f, i) => (Length: Token.Length(f), Size: sizes[i])).ToList();
                int agree = pairs.Count(p => Agrees(p.Length, p.Size));
                // Numbers without zeros in front are shorter now and then, but mostly as long as the length says.
                if (!whole && (sizes.Max() < 3 || 2 * agree < pairs.Count))
                    continue;
                if (!whole)
                    agree = pairs.Count(p => Agrees(p.Length, p.Size) || p.Size < p.Length);
                yield return new DataPlace(length, data, true, 0, 0, (double)agree / sizes.Count) { Explained = sizes.Where(s => s >= 0).DefaultIfEmpty().Average() };
            }

            // Without a length to agree with, data must look like data: long, or of many lengths and values.
            bool likely = whole && (!table.IsBlanks || sizes.Max() > 4 || sizes.Distinct().Count() > 2);
            if (likely && (sizes.Max() > 4 || sizes.Distinct().Count() > 1) && columns[data].ByteShare < Enough && columns[data].FractionShare is 0)
                yield return new DataPlace(-1, data, true, 0, 0, (double)sizes.Count(s => s is >= 0 and <= 64) / sizes.Count);
        }
    }

    private static bool Agrees(int length, int bytes) =>
        length == bytes || (length is > 8 and < 16 && Wire.FdLengths.All[length] == bytes);

    private static IEnumerable<DataPlace> WithoutLength(SampleTable table, IReadOnlyList<ColumnStats> columns, IReadOnlySet<int> taken)
    {
        for (int first = 1; first < columns.Count; first++)
        {
            if (taken.Contains(first) || columns[first].ByteShare < Enough)
                continue;
            int width = Fixed(table, columns, first);
            int agree = table.Typical.Count(r => r.Fields.Length <= first || r.Fields.Skip(first).Take(width).All(f => f.Length is 0 || Token.IsByte(f)));
            bool toEnd = first + width >= columns.Count;
            if (width >= 2)
                yield return new DataPlace(-1, first, false, table.IsBlanks || !toEnd ? table.IsBlanks ? 0 : width : width, 0, (double)agree / table.Typical.Count);
        }
    }
}
