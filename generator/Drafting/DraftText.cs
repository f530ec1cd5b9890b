using Locum.Diagnostics;
using Locum.Reporting;

namespace Locum.Drafting;

/// <summary>What a draft rests on, for people at a terminal: at most 80 columns.</summary>
public static class DraftText
{
    private const int Columns = 80;
    private const int WhatWidth = 17;

    /// <summary>Writes the summary. Line ends are "\n".</summary>
    public static void Write(TextWriter writer, Draft draft)
    {
        var findings = draft.Findings;
        var start = findings.Start;
        Line(writer, 0, 2, DraftWords.Text($"{draft.Name}: {DraftWords.Count(findings.Frames.Count, "identifier")}, {DraftWords.Count(findings.Frames.Sum(f => (long)f.Series.Count), "frame")}; {DraftWords.Moment(findings.Recording.DurationUs)} recorded, time stamps in steps of {findings.QuantumUs} us"));
        Line(writer, 0, 2, start.Seen
            ? DraftWords.Text($"start seen {DraftWords.Moment(start.SilenceUs)} after {(start.SilenceUs == start.TimeUs - findings.Recording.Parts[start.Part].StartUs ? "the recording began" : "the last frame before")}; {DraftWords.Count(findings.Starts.Count(s => s.Seen), "start")} in all")
            : "no start seen: the module was sending when the recording began, or the bus was not");
        var names = draft.FrameNames.ToList();
        foreach (var group in draft.Facts.GroupBy(f => f.Subject).OrderBy(g => g.Key.Length is 0 ? -2 : names.IndexOf(g.Key)))
        {
            writer.Write('\n');
            Line(writer, 0, 2, group.Key.Length > 0 ? Title(draft, group.Key) : "the module");
            foreach (var fact in group)
                Line(writer, 2, WhatWidth + 4, $"{fact.What.PadRight(WhatWidth)} {fact.Says}  {fact.Comment}");
        }
        writer.Write('\n');
        Line(writer, 0, 2, draft.Unexplained.Count is 0 ? "nothing is left unexplained" : DraftWords.Text($"still unexplained: {draft.Unexplained.Count}"));
        foreach (var open in draft.Unexplained)
            Line(writer, 2, 4, $"{open.Id}{(open.Bits.Length > 0 ? $" {open.Bits}" : "")}: {open.Why}");
    }

    private static string Title(Draft draft, string subject)
    {
        int index = draft.FrameNames.ToList().IndexOf(subject);
        return index < 0 ? $"bus {subject}" : $"{subject} on {draft.Findings.Frames[index].Series.BusName}";
    }

    private static void Line(TextWriter writer, int indent, int further, string text)
    {
        var lines = SoftWrap.Lines(Printable.Clean(text), Columns, indent, further);
        writer.Write(new string(' ', indent) + string.Join('\n', lines) + "\n");
    }
}
