using System.Text;
using Locum.Binding;
using Locum.Model;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>
/// Finds out how a text is a table of frames: tries each separator, looks for column names, judges every column by its
/// contents, and takes the form in which the most rows can be read.
/// </summary>
internal sealed class TableRecogniser
{
    private const int FirstLook = 400;
    private const int LeastSecond = 5;
    private const double Enough = 0.8;

    private static readonly char[] s_separators = ['\t', ';', ',', '|', ' '];

    private readonly IReadOnlyList<SampleLine> _lines;
    private readonly TableLayout? _layout;

    private TableRecogniser(IReadOnlyList<SampleLine> lines, TableLayout? layout) => (_lines, _layout) = (lines, layout);

    /// <summary>The form, and how many lines of the sample it makes frames of; null when there is none.</summary>
    /// <param name="lines">Whole lines from the start of the text.</param>
    /// <param name="layout">What the author knows; null when nothing.</param>
    public static (TableForm Form, int Frames)? Recognise(IReadOnlyList<SampleLine> lines, TableLayout? layout)
    {
        var recogniser = new TableRecogniser(lines, layout);
        (TableForm Form, int Frames)? best = null;
        foreach (char separator in layout?.Separator is { } given ? [given] : s_separators)
        {
            if (recogniser.Try((byte)separator) is { } form && recogniser.Frames(form.Plan) is var frames && frames > (best?.Frames ?? 0))
                best = (form, frames);
        }

        return best is { } found && layout is not { Columns.Count: > 0 } ? (recogniser.WithSecond(found.Form), found.Frames) : best;
    }

    // Loggers that write CAN FD, or two that share a file, have rows of two shapes.
    private TableForm WithSecond(TableForm form)
    {
        var parser = new RowParser(form.Plan);
        var fields = new RowFields();
        var rest = _lines.Where(l => l.Number > form.Skip && l.Number != form.HeaderLine && PlainLine.Classify(l.Bytes) is null && !IsFrame(l, parser, fields, form.Plan.Separator)).ToList();
        if (rest.Count < LeastSecond)
            return form;
        var other = new TableRecogniser(rest, null);
        var second = s_separators.Select(s => other.Try((byte)s)).OfType<TableForm>()
            .Select(f => (f.Plan, Frames: other.Frames(f.Plan)))
            .Where(f => f.Frames >= LeastSecond && 2 * f.Frames > rest.Count)
            .OrderByDescending(f => f.Frames).Select(f => f.Plan).FirstOrDefault();
        // Times of both count in one unit, or one of them would be lost among the other's.
        if (second is null || (second.Unit is null) != (form.Plan.Unit is null) || (second.Unit is TimeUnit.Clock) != (form.Plan.Unit is TimeUnit.Clock))
            return form;
        string columns = string.Join(", ", second.Roles.Where(r => r is not ColumnRole.Other).Distinct().Select(LayoutBinder.WordOf));
        return form with { Second = second with { Unit = form.Plan.Unit, Bus = form.Plan.Bus }, Text = $"{form.Text}; rows of a second shape with {columns}" };
    }

    private TableForm? Try(byte separator)
    {
        int skip = _layout?.Skip ?? 0;
        var lines = _lines.Where(l => l.Number > skip && !(_layout?.Comment is { Length: > 0 } comment && Encoding.UTF8.GetString(l.Bytes).TrimStart().StartsWith(comment, StringComparison.Ordinal))).ToList();
        var table = new SampleTable([.. lines.Take(FirstLook)], separator);
        if (table.Typical.Count is 0)
            table = new SampleTable(lines, separator);
        var header = _layout is { Header: false } ? null : HeaderFinder.Find(table);
        var roles = _layout is { Columns.Count: > 0 } ? LayoutRoles.Find(_layout, table, ref header) : RoleFinder.Find(table, header);
        if (roles is null)
            return null;
        return Form(table, header, roles, lines);
    }

    private TableForm Form(SampleTable table, HeaderLine? header, IReadOnlyList<ColumnGuess> roles, IReadOnlyList<SampleLine> lines)
    {
        var plan = new RowPlan
        {
            Separator = table.Separator,
            Roles = [.. roles.Select(r => r.Role)],
            Bus = _layout is { Bus.Length: > 0 } ? Encoding.UTF8.GetBytes(_layout.Bus) : BusBook.Unnamed.ToArray(),
            LengthBase = _layout?.LengthBase ?? NumberBase.Decimal,
        };
        plan = NumberJudge.Judge(plan, table, header, _layout, out var notes);
        var (unit, sure, reason) = Unit(plan, table, header, lines);
        plan = plan with { Unit = unit };
        return new TableForm
        {
            Plan = plan,
            Skip = _layout?.Skip ?? 0,
            Comment = Encoding.UTF8.GetBytes(_layout?.Comment ?? ""),
            Header = header?.Line.Bytes ?? [],
            HeaderLine = header?.Line.Number ?? 0,
            Columns = [.. roles.Select((r, i) => Column(r, i, header, table, notes))],
            TimeText = unit is null ? "no column holds the time; entries are numbered" : unit is TimeUnit.Clock ? "times of day" : $"in {TimeJudge.Word(unit.Value)} ({sure}: {reason})",
            Text = Text(table, header),
        };
    }

    private (TimeUnit? Unit, string Sure, string Reason) Unit(RowPlan plan, SampleTable table, HeaderLine? header, IReadOnlyList<SampleLine> lines)
    {
        int time = plan.Find(ColumnRole.Time);
        if (time < 0)
            return (null, "", "");
        if (_layout?.Unit is { } given)
            return (given, "certain", "the layout says so");
        var stats = new ColumnStats([.. table.Column(time)]);
        if (stats.ClockShare >= Enough)
            return (TimeUnit.Clock, "certain", "");
        bool aligned = header is not null && (!table.IsBlanks || (time < header.Words.Count && header.Words[time]?.Role is ColumnRole.Time));
        var named = aligned && time < header!.Words.Count ? header.Words[time]?.Unit : null;
        var guess = TimeJudge.Judge(Samples(plan, lines, time), stats.FractionShare >= Enough || plan.Find(ColumnRole.Fraction) >= 0, named);
        return (guess.Unit, guess.Sure, guess.Reason);
    }

    private static List<TimeSample> Samples(RowPlan plan, IReadOnlyList<SampleLine> lines, int time)
    {
        var samples = new List<TimeSample>();
        var buses = new Dictionary<string, int>(StringComparer.Ordinal);
        var fields = new RowFields();
        var parser = new RowParser(plan with { Unit = null });
        int fraction = plan.Find(ColumnRole.Fraction);
        foreach (var line in lines)
        {
            var row = SampleTable.Cut(line, plan.Separator, fields);
            if (parser.Parse(Padded(line), fields) is not null || time >= row.Fields.Length)
                continue;
            string written = fraction >= 0 && fraction < row.Fields.Length ? $"{row.Fields[time]}.{row.Fields[fraction]}" : row.Fields[time];
            if (Token.Decimal(written) is not { } value)
                continue;
            string name = parser.BusField >= 0 && parser.BusField < row.Fields.Length ? row.Fields[parser.BusField] : "";
            if (!buses.TryGetValue(name, out int bus))
                buses.Add(name, bus = buses.Count);
            bool extended = (parser.Traits & FrameTraits.Extended) is not 0;
            // What is longer was sent at a higher rate.
            int bits = FrameLength.MinimumBits(extended, Math.Min(parser.Length, 8)) + FrameLength.IntermissionBits;
            samples.Add(new TimeSample(value, bus, ((ulong)(uint)bus << 32) | parser.Id | (extended ? 0x8000_0000u : 0), bits));
        }

        return samples;
    }

    /// <summary>Lines of the sample that are frames by a plan.</summary>
    private int Frames(RowPlan plan)
    {
        var parser = new RowParser(plan);
        var fields = new RowFields();
        int frames = 0;
        foreach (var line in _lines)
            frames += IsFrame(line, parser, fields, plan.Separator) ? 1 : 0;
        return frames;
    }

    private static bool IsFrame(SampleLine line, RowParser parser, RowFields fields, byte separator)
    {
        var text = Padded(line);
        fields.Split(text, line.Bytes.Length, separator);
        return parser.Parse(text, fields) is null && (parser.Notes & RowNotes.BadTime) is 0;
    }

    private static byte[] Padded(SampleLine line)
    {
        var padded = new byte[line.Bytes.Length + RowFields.Slack];
        line.Bytes.CopyTo(padded, 0);
        return padded;
    }

    private static CaptureColumn Column(ColumnGuess guess, int index, HeaderLine? header, SampleTable table, IReadOnlyDictionary<ColumnRole, string> notes)
    {
        string name = header is not null && index < header.Names.Count && (!table.IsBlanks || header.Words[index]?.Role == guess.Role) ? header.Names[index] : "";
        string reason = notes.TryGetValue(guess.Role, out var note) ? $"{guess.Reason}; {note}" : guess.Reason;
        return new CaptureColumn(index + 1, name, LayoutBinder.WordOf(guess.Role), guess.Sure, reason);
    }

    private static string Text(SampleTable table, HeaderLine? header)
    {
        string separator = LayoutBinder.WordOf((char)table.Separator) is { } word ? word is "blanks" ? "blanks" : $"{word}s" : $"'{(char)table.Separator}'";
        return header is null ? $"table separated by {separator}, without a header" : $"table separated by {separator}, with a header in line {header.Line.Number}";
    }
}
