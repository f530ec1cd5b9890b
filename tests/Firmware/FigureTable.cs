using System.Globalization;
using System.Text;

namespace Locum.Tests.Firmware;

/// <summary>Named figures, a column per board or another thing that has them, as text that people read and tests compare.</summary>
internal sealed class FigureTable(string corner = "figure", int nameWidth = 44, int columnWidth = 17)
{
    private const double Tolerance = 0.02;
    private const string Nothing = "-";

    private readonly List<string> _boards = [];
    private readonly List<(string Name, Dictionary<string, string> Values)> _rows = [];

    /// <summary>Adds or fills a row.</summary>
    /// <param name="decimals">Digits behind the point.</param>
    public void Set(string board, string name, double value, int decimals = 0)
    {
        if (!_boards.Contains(board))
            _boards.Add(board);
        if (_rows.All(r => r.Name != name))
            _rows.Add((name, []));
        _rows.Find(r => r.Name == name).Values[board] = value.ToString($"F{decimals}", CultureInfo.InvariantCulture);
    }

    /// <summary>Why this table is not the other one, one line per figure; empty when all lie within 2 % or one unit of the last digit.</summary>
    public IReadOnlyList<string> Differences(string other)
    {
        var lines = other.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        var mine = ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        if (lines.Length != mine.Length)
            return [$"{mine.Length} lines against {lines.Length}"];
        return [.. mine.Zip(lines).Where(p => !Same(p.First, p.Second)).Select(p => $"now   {p.First}\nwas   {p.Second}")];
    }

    public override string ToString()
    {
        var text = new StringBuilder();
        Line(corner, _boards);
        foreach (var (name, values) in _rows)
            Line(name, _boards.Select(b => values.GetValueOrDefault(b, Nothing)));
        return text.ToString();

        void Line(string name, IEnumerable<string> cells)
        {
            text.Append(name.PadRight(nameWidth));
            foreach (var cell in cells)
                text.Append(cell.PadLeft(columnWidth));
            text.Append('\n');
        }
    }

    private bool Same(string a, string b)
    {
        if (a == b)
            return true;
        if (a.Length != b.Length || a.Length < nameWidth || a[..nameWidth] != b[..nameWidth])
            return false;
        var left = a[nameWidth..].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var right = b[nameWidth..].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return left.Length == right.Length && left.Zip(right).All(p => p.First == p.Second || Near(p.First, p.Second));
    }

    private static bool Near(string a, string b)
    {
        if (!double.TryParse(a, CultureInfo.InvariantCulture, out var x) || !double.TryParse(b, CultureInfo.InvariantCulture, out var y))
            return false;
        var point = a.IndexOf('.', StringComparison.Ordinal);
        var unit = point < 0 ? 1 : Math.Pow(10, point + 1 - a.Length);
        return Math.Abs(x - y) <= Math.Max(Tolerance * Math.Abs(y), 1.001 * unit);
    }
}
