using Locum.Model;

namespace Locum.Capture;

/// <summary>
/// Reads tables. Rows of the usual shape are split and read where they lie in the window; any other is looked at again
/// with all care, and counted when it still says nothing.
/// </summary>
internal sealed class TableReader : LineReader
{
    private const long NsPerEntry = 1000;
    private const long NsPerDay = 86_400_000_000_000;

    private readonly TableForm _form;
    private readonly RowParser _usual;
    private readonly RowParser? _second;
    private readonly RowFields _fields = new();
    private readonly RowSplitter _splitter;
    private readonly bool _clock;
    private readonly bool _comma;
    private RowParser _parser;
    private long _daysNs;
    private long _clockNs = long.MinValue;

    public TableReader(ByteSource source, FrameIntake intake, TableForm form, long before)
        : base(source, intake, before)
    {
        _comma = form.Plan.Mark is (byte)',';
        _form = form;
        _parser = _usual = new RowParser(form.Plan);
        _second = form.Second is null ? null : new RowParser(form.Second);
        _splitter = new RowSplitter(_fields, form.Plan.Separator);
        _clock = form.Plan.Unit is TimeUnit.Clock && form.Plan.Find(ColumnRole.Date) < 0;
    }

    protected override int Lines(ReadOnlySpan<byte> window, int length)
    {
        int at = 0;
        while (true)
        {
            if (length - at >= RowSplitter.Reach)
            {
                var text = window.Slice(at, RowSplitter.Reach + RowFields.Slack);
                int used = _splitter.Split(text);
                if (used >= 0 && Line >= _form.Skip && _usual.Parse(text, _fields) is null)
                {
                    Line++;
                    _parser = _usual;
                    if (used > 0 && text[used - 1] is (byte)'\r')
                        Intake.Oddities.Add(OddityKind.CarriageReturn, Line);
                    Deliver(text);
                    at += used + 1;
                    continue;
                }
            }

            int end = window[at..length].IndexOf((byte)'\n');
            if (end < 0)
                return at;
            Line++;
            if (!IsTooLong(end))
                General(window.Slice(at, end + RowFields.Slack), end, last: false);
            at += end + 1;
        }
    }

    protected override void LastLine(ReadOnlySpan<byte> line)
    {
        var text = new byte[line.Length + RowFields.Slack];
        line.CopyTo(text);
        General(text, line.Length, last: true);
    }

    private void General(ReadOnlySpan<byte> text, int length, bool last)
    {
        var line = PlainLine.Trim(text[..length], Line, Intake);
        if (Line <= _form.Skip)
        {
            Intake.Oddities.Add(OddityKind.SkippedLine, Line);
            return;
        }

        if (IsHeader(line) is { } header)
        {
            Intake.Oddities.Add(header, Line);
            return;
        }

        // Zero bytes in front have moved the row.
        int start = line.IsEmpty ? 0 : text.IndexOfAnyExcept((byte)0);
        text = text[Math.Min(start, length)..];
        var odd = Parse(text, line.Length);
        if (odd is null && IsComment(line))
            odd = OddityKind.CommentLine;
        if (odd is null && last && _parser.MayBeCut(_fields))
            odd = OddityKind.TruncatedEnd;
        if (odd is { } kind)
        {
            if (kind is not OddityKind.TruncatedEnd)
                kind = Classify(line, kind);
            Intake.Oddities.Add(last && !OddityFacts.Of(kind).IsUsual ? OddityKind.TruncatedEnd : kind, Line);
            return;
        }

        Deliver(text);
        if (last)
            Intake.Oddities.Add(OddityKind.UnendedLine, Line);
    }

    // A row that the usual shape does not fit may be one of the other.
    private OddityKind? Parse(ReadOnlySpan<byte> text, int length)
    {
        _parser = _usual;
        _fields.Split(text, length, _form.Plan.Separator);
        var odd = _parser.Parse(text, _fields);
        if (odd is null || _second is null)
            return odd;
        _fields.Split(text, length, _form.Second!.Separator);
        if (_second.Parse(text, _fields) is null && (_second.Notes & RowNotes.BadTime) is 0)
        {
            _parser = _second;
            return null;
        }

        // What is said of the row is what the usual shape finds wrong.
        _fields.Split(text, length, _form.Plan.Separator);
        return _parser.Parse(text, _fields);
    }

    private OddityKind Classify(ReadOnlySpan<byte> line, OddityKind kind)
    {
        if (PlainLine.Classify(line) is { } plain)
            return plain;
        if (IsComment(line))
            return OddityKind.CommentLine;
        if (_parser.IsRow)
            return kind;
        return Intake.Entries is 0 ? OddityKind.BannerLine : OddityKind.NotUnderstood;
    }

    private bool IsComment(ReadOnlySpan<byte> line) => _form.Comment.Length > 0 && line.TrimStart((byte)' ').StartsWith(_form.Comment);

    private OddityKind? IsHeader(ReadOnlySpan<byte> line)
    {
        if (_form.Header.Length is 0 || !line.SequenceEqual(_form.Header))
            return null;
        return Line <= _form.HeaderLine ? OddityKind.HeaderLine : OddityKind.HeaderRepeated;
    }

    private void Deliver(ReadOnlySpan<byte> text)
    {
        long timeNs = _form.Plan.Unit is null ? Intake.Entries * NsPerEntry : Time();
        var name = _fields.Of(text, _parser.BusField);
        int bus = Intake.Bus(name.IsEmpty ? _form.Plan.Bus : name);
        Intake.Take(new CaptureFrame(timeNs, bus, _parser.Id, _parser.Traits, (byte)_parser.Length), _parser.Data, Line);
        if (_comma)
            Intake.Oddities.Add(OddityKind.DecimalComma, Line);
        if (_parser.Notes is not RowNotes.None)
            Note(_parser.Notes);
    }

    private long Time()
    {
        if ((_parser.Notes & (RowNotes.NoTime | RowNotes.BadTime)) is not 0)
            return Intake.PreviousNs;
        if (!_clock)
            return _parser.TimeNs;
        // A clock that falls back by more than half a day has passed midnight.
        if (_clockNs != long.MinValue && _parser.TimeNs < _clockNs - (NsPerDay / 2))
        {
            _daysNs += NsPerDay;
            Intake.Oddities.Add(OddityKind.Midnight, Line);
        }

        _clockNs = _parser.TimeNs;
        return _clockNs + _daysNs;
    }

    private void Note(RowNotes notes)
    {
        Count(notes, RowNotes.NoTime, OddityKind.NoTime);
        Count(notes, RowNotes.BadTime, OddityKind.BadTime);
        Count(notes, RowNotes.PaddedId, OddityKind.PaddedId);
        Count(notes, RowNotes.ExtraBytes, OddityKind.ExtraBytes);
        Count(notes, RowNotes.ExtendedByValue, OddityKind.ExtendedByValue);
        Count(notes, RowNotes.Unpadded, OddityKind.UnpaddedData);
    }

    private void Count(RowNotes notes, RowNotes note, OddityKind kind)
    {
        if ((notes & note) is not 0)
            Intake.Oddities.Add(kind, Line);
    }
}
