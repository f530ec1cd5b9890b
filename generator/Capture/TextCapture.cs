using System.Text;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Text;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>Reads captures that are text: finds out of which form, from a sample at their start.</summary>
internal static class TextCapture
{
    /// <summary>Bytes of a sample.</summary>
    public const int SampleBytes = 256 * 1024;

    private const int SampleLines = 3000;

    // So many samples are looked at for the first frame.
    private const int MostSamples = 64;

    private const int ShortId = 4;
    private const int LongId = 8;

    /// <summary>Reads a text to its end; null (and a finding) when it is not usable.</summary>
    public static CaptureFacts? Read(ref ByteSource source, string path, FrameIntake intake, DiagnosticBag diagnostics, TableLayout? layout)
    {
        source.Fill(SampleBytes);
        if (!TextDecoding.Prepare(ref source, intake.Oddities))
        {
            diagnostics.Add(Codes.UnknownCapture, Span.Start(path), "the file is neither text nor pcap nor pcapng", "convert it to pcapng with the program that wrote it");
            return null;
        }

        long before = 0;
        for (int i = 0; i < MostSamples && !source.Window.IsEmpty; i++)
        {
            var sample = Sample(source, before);
            if (Form(sample, source, intake, layout, before) is { } form)
                return form();
            PassOver(source, sample.Count, intake, ref before);
            source.Fill(SampleBytes);
        }

        Refuse(path, diagnostics, layout, before);
        return null;
    }

    private static Func<CaptureFacts>? Form(IReadOnlyList<SampleLine> sample, ByteSource source, FrameIntake intake, TableLayout? layout, long before)
    {
        int logs = layout is { Columns.Count: > 0 } ? 0 : sample.Count(l => TextLogLine.Looks(l.Bytes));
        var json = layout is { Columns.Count: > 0 } || logs > sample.Count / 2 ? null : JsonForm.Recognise(sample);
        var table = logs > sample.Count / 2 || json is not null ? null : TableRecogniser.Recognise(sample, layout);
        if (json is not null)
            return () => Json(json, new JsonLinesReader(source, intake, json, before));
        if (table is { } found && found.Frames > logs)
            return () => Table(found.Form, new TableReader(source, intake, found.Form, before));
        if (logs > 0)
            return () => Log(new TextLogReader(source, intake, new TextLogLine(intake, EightDigitsAreExtended(sample, layout)), before));
        return null;
    }

    private static CaptureFacts Json(JsonForm form, JsonLinesReader reader)
    {
        reader.Read();
        return new CaptureFacts(CaptureFormat.JsonLines, "JSON lines", reader.Line, "line") { HasTime = form.Unit is not null, TimeText = form.TimeText };
    }

    private static CaptureFacts Table(TableForm form, TableReader reader)
    {
        reader.Read();
        return new CaptureFacts(CaptureFormat.Delimited, form.Text, reader.Line, "line") { HasTime = form.Plan.Unit is not null, TimeText = form.TimeText, Columns = form.Columns };
    }

    private static CaptureFacts Log(TextLogReader reader)
    {
        reader.Read();
        return new CaptureFacts(CaptureFormat.TextLog, "text log", reader.Line, "line") { TimeText = "in s" };
    }

    // Where no identifier has three digits, eight of them say nothing: the writer pads them all.
    private static bool EightDigitsAreExtended(IReadOnlyList<SampleLine> sample, TableLayout? layout)
    {
        if (layout?.IdKind is { } rule)
            return rule is IdKindRule.ByDigits or IdKindRule.Extended;
        var ids = sample.Select(l => Encoding.Latin1.GetString(TextLogLine.Identifier(l.Bytes))).Where(i => i.Length > 0).ToList();
        bool padded = ids.All(i => i.Length > ShortId) && ids.Any(i => i.Length is LongId && Convert.ToUInt32(i, 16) <= CanId.MaxStandard);
        return !padded;
    }

    private static IReadOnlyList<SampleLine> Sample(ByteSource source, long before)
    {
        var lines = new List<SampleLine>();
        var rest = source.Window;
        while (lines.Count < SampleLines && !rest.IsEmpty)
        {
            int end = rest.IndexOf((byte)'\n');
            if (end < 0 && !source.Ended && lines.Count > 0)
                break;
            var line = end < 0 ? rest[..Math.Min(rest.Length, SampleBytes)] : rest[..end];
            lines.Add(new SampleLine(before + lines.Count + 1, line.TrimEnd((byte)'\r').Trim((byte)0).ToArray()));
            rest = end < 0 ? [] : rest[(end + 1)..];
        }

        return lines;
    }

    private static void PassOver(ByteSource source, int lines, FrameIntake intake, ref long before)
    {
        for (int i = 0; i < lines; i++)
        {
            int end = source.Window.IndexOf((byte)'\n');
            while (end < 0 && source.Window.Length < LineReader.LongestLine && source.More())
                end = source.Window.IndexOf((byte)'\n');
            source.Advance(end < 0 ? source.Window.Length : end + 1);
            before++;
            intake.Oddities.Add(OddityKind.BannerLine, before);
        }
    }

    private static void Refuse(string path, DiagnosticBag diagnostics, TableLayout? layout, long lines)
    {
        if (layout is { Columns.Count: > 0 })
            diagnostics.Add(Codes.LayoutMisfit, layout.ColumnsSpan, $"no line of '{Printable.Short(System.IO.Path.GetFileName(path))}' can be read as the layout '{Printable.Short(layout.Name)}' says", "check the separator, the order of the columns and how numbers are written", Span.Start(path));
        else
            diagnostics.Add(Codes.UnknownCapture, Span.Start(path), $"none of the first {lines} lines holds an identifier with data bytes", "describe the columns in a layout (--layout), or convert the capture to pcapng");
    }
}
