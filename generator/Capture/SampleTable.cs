using System.Text;

namespace Locum.Capture;

/// <summary>The sample cut by one separator, and the rows of it that look alike.</summary>
internal sealed class SampleTable
{
    // Rows are alike when these many fields are of the same sort.
    private const int Alike = 3;

    public SampleTable(IReadOnlyList<SampleLine> lines, byte separator)
    {
        Separator = separator;
        var fields = new RowFields();
        Rows = [.. lines.Select(l => Cut(l, separator, fields))];
        Typical = FindTypical(Rows);
        Width = Typical.Count is 0 ? 0 : Typical.GroupBy(r => r.Fields.Length).OrderByDescending(g => g.Count()).ThenByDescending(g => g.Key).First().Key;
        MostFields = Typical.Count is 0 ? 0 : Typical.Max(r => r.Fields.Length);
    }

    public byte Separator { get; }

    public bool IsBlanks => Separator is (byte)' ';

    public IReadOnlyList<SampleRow> Rows { get; }

    /// <summary>Rows of the commonest sort.</summary>
    public IReadOnlyList<SampleRow> Typical { get; }

    /// <summary>The commonest number of fields of typical rows.</summary>
    public int Width { get; }

    /// <summary>The largest number of fields of typical rows.</summary>
    public int MostFields { get; }

    /// <summary>The fields of one column in typical rows; rows that are too short give an empty one.</summary>
    public IEnumerable<string> Column(int index) => Typical.Select(r => index < r.Fields.Length ? r.Fields[index] : "");

    public static SampleRow Cut(SampleLine line, byte separator, RowFields fields)
    {
        var padded = new byte[line.Bytes.Length + RowFields.Slack];
        line.Bytes.CopyTo(padded, 0);
        fields.Split(padded, line.Bytes.Length, separator);
        var texts = new string[fields.Count];
        for (int i = 0; i < texts.Length; i++)
            texts[i] = Encoding.UTF8.GetString(fields.Of(padded, i));
        return new SampleRow(line, texts);
    }

    private static IReadOnlyList<SampleRow> FindTypical(IReadOnlyList<SampleRow> rows)
    {
        var group = rows
            .Where(r => r.Fields.Length >= 2 && r.Fields.Count(Token.IsNumeric) >= 2)
            .GroupBy(r => Sort(r.Fields), StringComparer.Ordinal)
            .OrderByDescending(g => g.Count()).ThenByDescending(g => g.Key.Count(c => c is 'n'))
            .FirstOrDefault();
        return group is null ? [] : [.. group];
    }

    private static string Sort(string[] fields) =>
        string.Concat(fields.Take(Alike).Select(f => f.Length is 0 ? 'e' : Token.IsNumeric(f) && !IsWord(f) ? 'n' : 'w'));

    // FD and d are words rather than numbers.
    private static bool IsWord(string field) => field.Length <= 2 && field.All(char.IsAsciiLetter);
}
