using Locum.Model;

namespace Locum.Capture;

/// <summary>The columns that a layout names.</summary>
internal static class LayoutRoles
{
    /// <summary>One guess per column; null when the names are not in any line.</summary>
    /// <param name="layout">With columns.</param>
    /// <param name="table">The sample.</param>
    /// <param name="header">The line of names, found by them where the layout has names.</param>
    public static IReadOnlyList<ColumnGuess>? Find(TableLayout layout, SampleTable table, ref HeaderLine? header)
    {
        const string Said = "the layout says so";
        if (!layout.ByName)
            return [.. layout.Columns.Select(c => new ColumnGuess(c.Role, ColumnGuess.Certain, Said))];
        foreach (var row in table.Rows)
        {
            if (!layout.Columns.All(c => Place(row, c) >= 0))
                continue;
            header = new HeaderLine(row.Line, row.Fields, [.. row.Fields.Select(HeaderWords.Of)]);
            var roles = Enumerable.Repeat(new ColumnGuess(ColumnRole.Other, ColumnGuess.Certain, "the layout leaves it out"), row.Fields.Length).ToArray();
            foreach (var column in layout.Columns)
                roles[Place(row, column)] = new ColumnGuess(column.Role, ColumnGuess.Certain, Said);
            int bytes = Array.FindIndex(roles, r => r.Role is ColumnRole.Bytes);
            return bytes < 0 ? roles : roles[..(bytes + 1)];
        }

        return null;
    }

    private static int Place(SampleRow row, LayoutColumn column) =>
        Array.FindIndex(row.Fields, f => string.Equals(f.Trim(), column.Header.Trim(), StringComparison.OrdinalIgnoreCase));
}
