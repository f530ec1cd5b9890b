using Locum.Reporting;

namespace Locum.Budgeting;

/// <summary>Budgets as Markdown (CommonMark with tables).</summary>
public static class BudgetMarkdown
{
    public static void Write(TextWriter writer, IReadOnlyList<BusBudget> buses)
    {
        foreach (var bus in buses)
        {
            writer.Write($"## {MarkdownText.Cell(BudgetWords.Title(bus))}\n\n{MarkdownText.Cell(BudgetWords.Load(bus))}\n\n");
            writer.Write($"| {string.Join(" | ", BudgetWords.Headings.Select(h => h.Length > 0 ? h : "verdict"))} |\n|---|---|---:|---:|---:|---:|---|\n");
            foreach (var response in bus.Responses)
                writer.Write($"| {string.Join(" | ", BudgetWords.Row(response).Select(MarkdownText.Cell))} |\n");
            writer.Write('\n');
        }
        foreach (var group in buses.SelectMany(b => b.Groups))
        {
            writer.Write($"{MarkdownText.Cell(BudgetWords.Offsets(group))}\n\n");
            if (!group.Changes.Any())
                continue;
            writer.Write("| frame | offset ms | better ms |\n|---|---:|---:|\n");
            foreach (var (frame, offset) in group.Changes)
                writer.Write($"| {MarkdownText.Cell(frame.Sender)} | {BudgetWords.Ms(frame.Frame.OffsetUs)} | {BudgetWords.Ms(offset)} |\n");
            writer.Write('\n');
        }
        foreach (var note in BudgetWords.Notes(buses))
            writer.Write($"{MarkdownText.Cell(note)}\n\n");
    }
}
