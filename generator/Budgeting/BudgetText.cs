using Locum.Diagnostics;
using Locum.Reporting;

namespace Locum.Budgeting;

/// <summary>Budgets for people, 80 columns.</summary>
public static class BudgetText
{
    private const int Columns = 80;
    private static readonly int[] s_widths = [26, 10, 9, 7, 9, 8, 4];

    public static void Write(TextWriter writer, IReadOnlyList<BusBudget> buses)
    {
        foreach (var bus in buses)
        {
            writer.WriteLine(BudgetWords.Title(bus));
            Wrap(writer, "  ", BudgetWords.Load(bus));
            writer.WriteLine(Line(BudgetWords.Headings));
            foreach (var response in bus.Responses)
                writer.WriteLine(Line(BudgetWords.Row(response)));
            writer.WriteLine();
        }
        Offsets(writer, [.. buses.SelectMany(b => b.Groups)]);
        foreach (var note in BudgetWords.Notes(buses))
            Wrap(writer, "", note);
    }

    private static void Offsets(TextWriter writer, IReadOnlyList<OffsetGroup> groups)
    {
        if (groups.Count is 0)
            return;
        writer.WriteLine("offsets");
        foreach (var group in groups)
        {
            Wrap(writer, "  ", BudgetWords.Offsets(group));
            foreach (var (frame, offset) in group.Changes)
                writer.WriteLine($"    {Cut(Printable.Clean(frame.Sender), 44),-44} {BudgetWords.Ms(frame.Frame.OffsetUs)} -> {BudgetWords.Ms(offset)} ms");
        }
        writer.WriteLine();
    }

    private static string Line(IReadOnlyList<string> cells) => string.Join(' ', cells.Select((c, i) =>
        i < 2 ? Cut(c, s_widths[i]).PadRight(s_widths[i]) : i == cells.Count - 1 ? c : c.PadLeft(s_widths[i]))).TrimEnd();

    private static string Cut(string text, int width) => text.Length <= width ? text : text[..(width - 1)] + "…";

    private static void Wrap(TextWriter writer, string indent, string text)
    {
        foreach (var line in SoftWrap.Lines(text, Columns - indent.Length, 0, 0))
            writer.WriteLine($"{indent}{line}");
    }
}
