using System.Globalization;
using Locum.Capture;
using Locum.Diagnostics;

namespace Locum.Reporting;

/// <summary>Captures for people: what they are, and what is in them.</summary>
public static class CaptureReportText
{
    private const decimal NsPerSecond = 1_000_000_000;
    private const decimal NsPerMs = 1_000_000;
    private const int Wide = 80;

    public static void Write(TextWriter output, IReadOnlyList<CaptureReport> reports)
    {
        foreach (var (index, report) in reports.Index())
        {
            if (index > 0)
                Line(output, "");
            Summary(output, report.Summary);
            Identifiers(output, report);
        }
    }

    private static void Summary(TextWriter output, CaptureSummary summary)
    {
        Line(output, Printable.Clean(summary.Path));
        Field(output, "form", $"{summary.FormatText}, {Count(summary.Items, summary.ItemWord)}");
        Field(output, "entries", $"{Count(summary.Frames, "frame")}, {Count(summary.Remotes, "remote frame")}, {Count(summary.Errors, "error")}");
        Field(output, "time", summary.TimeText);
        if (summary.HasTime && summary.Entries > 0)
            Field(output, "span", $"{Seconds(summary.FirstNs)} to {Seconds(summary.LastNs)} s, {Seconds(summary.LastNs - (decimal)summary.FirstNs)} s in all");
        Columns(output, summary.Columns);
        if (summary.Columns.Count > 0)
            Field(output, "", "where this is wrong, say it in a layout: --layout FILE");
        foreach (var oddity in summary.Oddities)
            Field(output, oddity.Facts.Word, $"{Count(oddity.Count, summary.ItemWord, oddity)}: {oddity.Facts.What}; {oddity.Facts.Done}");
        foreach (var bus in summary.Buses)
            Field(output, $"bus {Printable.Short(bus.Name)}", $"{Count(bus.Frames, "frame")}, {Count(bus.Remotes, "remote frame")}, {Count(bus.Errors, "error")}");
    }

    // Data bytes side by side share a line.
    private static void Columns(TextWriter output, IReadOnlyList<CaptureColumn> columns)
    {
        for (int i = 0; i < columns.Count; i++)
        {
            var column = columns[i];
            int last = i;
            while (last + 1 < columns.Count && column.Role is "byte" && columns[last + 1].Role is "byte" && columns[last + 1].Sure == column.Sure)
                last++;
            string header = column.Header.Length > 0 && !column.Reason.Contains(column.Header, StringComparison.Ordinal) ? $" '{Printable.Short(column.Header)}'" : "";
            string number = last > i ? $"columns {column.Number}-{columns[last].Number}" : $"column {column.Number}";
            Field(output, number, $"{column.Role}{header} ({column.Sure}: {Printable.Clean(column.Reason)})");
            i = last;
        }
    }

    private static void Identifiers(TextWriter output, CaptureReport report)
    {
        if (report.Identifiers.Count is 0)
            return;
        Line(output, "");
        Line(output, $"  {"bus",-12} {"id",-10} {"bytes",5} {"frames",10} {(report.Summary.HasTime ? "mean period, ms" : ""),16}");
        foreach (var one in report.Identifiers)
        {
            string bytes = one.Frames is 0 ? "-" : one.Shortest == one.Longest ? Number(one.Longest) : $"{one.Shortest}-{one.Longest}";
            string period = report.Summary.HasTime && one.Frames > 1 && one.LastNs > one.FirstNs
                ? (((decimal)one.LastNs - one.FirstNs) / NsPerMs / (one.Frames + one.Remotes - 1)).ToString("0.000", CultureInfo.InvariantCulture) : "";
            string bus = Printable.Short(report.Summary.Buses[one.Bus].Name);
            Line(output, $"  {bus,-12} {one.Id,-10} {bytes,5} {Number(one.Frames),10} {period,16}{(one.Remotes > 0 ? $"  and {Count(one.Remotes, "remote frame")}" : "")}".TrimEnd());
        }
    }

    private static string Count(long count, string word, Oddity oddity) =>
        oddity.Count is 1 ? $"{word} {Number(oddity.First)}" : $"{Number(count)} times, first in {word} {Number(oddity.First)}";

    private static string Count(long count, string word) => $"{Number(count)} {word}{(count is 1 ? "" : "s")}";

    private static string Number(long value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Seconds(decimal ns) => (ns / NsPerSecond).ToString("0.000000", CultureInfo.InvariantCulture);

    private static void Field(TextWriter output, string name, string text)
    {
        const int Width = 18;
        var lines = SoftWrap.Lines(text, Wide, Math.Max(Width, name.Length + 3), Width);
        Line(output, $"  {name,3 - Width} {lines[0]}");
        foreach (string line in lines.Skip(1))
            Line(output, line);
    }

    private static void Line(TextWriter output, string text)
    {
        output.Write(text.TrimEnd());
        output.Write('\n');
    }
}
