using Locum.Reporting;

namespace Locum.Benching;

/// <summary>Bench sheets as Markdown (CommonMark with tables).</summary>
public static class BenchMarkdown
{
    public static void Write(TextWriter writer, IReadOnlyList<BenchSheet> sheets)
    {
        var told = new HashSet<string>(StringComparer.Ordinal);
        foreach (var sheet in sheets)
            Write(writer, sheet, told);
        writer.Write("# In general\n\n");
        foreach (var table in Bench.General)
            Write(writer, table, told);
    }

    private static void Write(TextWriter writer, BenchSheet sheet, HashSet<string> told)
    {
        writer.Write($"# Bench: {MarkdownText.Cell(sheet.Module)}\n\n");
        foreach (var caution in sheet.Cautions)
            writer.Write($"> **Caution:** {MarkdownText.Cell(caution)}\n>\n");
        writer.Write('\n');
        foreach (var table in sheet.Tables)
            Write(writer, table, told);
        List("Does not hold", sheet.Problems);
        List("Not described", sheet.Missing);

        void List(string title, IReadOnlyList<string> lines)
        {
            if (lines.Count is 0)
                return;
            writer.Write($"## {title}\n\n");
            foreach (var line in lines)
                writer.Write($"- {MarkdownText.Cell(line)}\n");
            writer.Write('\n');
        }
    }

    // What one table has told already is not told again.
    private static void Write(TextWriter writer, BenchTable table, HashSet<string> told)
    {
        writer.Write($"## {MarkdownText.Cell(table.Title)}\n\n| {string.Join(" | ", table.Columns)} |\n|{string.Concat(table.Columns.Select((_, i) => table.Rows.Any(r => r[i].Value is not null) ? "---:|" : "---|"))}\n");
        foreach (var row in table.Rows)
            writer.Write($"| {string.Join(" | ", row.Select(c => MarkdownText.Cell(c.Text)))} |\n");
        writer.Write('\n');
        foreach (var note in table.Notes.Where(told.Add))
            writer.Write($"{MarkdownText.Cell(note)}\n\n");
    }
}
