using System.Text;
using System.Text.Json;
using Locum.Model;

namespace Locum.Capture;

/// <summary>
/// Reads one JSON object per line (RFC 8259). An object is turned into the fields of a row and read like one, so that
/// numbers, kinds and oddities mean the same as in tables.
/// </summary>
internal sealed class JsonLinesReader : LineReader
{
    private const int FieldBytes = 512;
    private const long NsPerEntry = 1000;

    private static readonly ColumnRole[] s_columns =
    [
        ColumnRole.Time, ColumnRole.Date, ColumnRole.Id, ColumnRole.Extended, ColumnRole.Bus, ColumnRole.Length, ColumnRole.Data,
        ColumnRole.Kind, ColumnRole.Remote, ColumnRole.Error, ColumnRole.Fd, ColumnRole.RateSwitched, ColumnRole.ErrorPassive,
    ];

    private readonly JsonForm _form;
    private readonly RowParser _hex;
    private readonly RowParser _decimal;
    private readonly RowFields _fields = new();
    private readonly byte[] _text = new byte[(s_columns.Length * FieldBytes) + RowFields.Slack];
    private readonly Dictionary<string, ColumnRole> _roles = new(StringComparer.Ordinal);

    public JsonLinesReader(ByteSource source, FrameIntake intake, JsonForm form, long before)
        : base(source, intake, before)
    {
        _form = form;
        var plan = new RowPlan { Separator = (byte)',', Roles = s_columns, Unit = form.Unit };
        _hex = new RowParser(plan);
        // Numbers without quotes are decimal, as JSON has no others.
        _decimal = new RowParser(plan with { IdBase = NumberBase.Decimal });
    }

    protected override int Lines(ReadOnlySpan<byte> window, int length)
    {
        int at = 0;
        while (window[at..length].IndexOf((byte)'\n') is >= 0 and var end)
        {
            Line++;
            if (!IsTooLong(end))
                One(window.Slice(at, end), last: false);
            at += end + 1;
        }

        return at;
    }

    protected override void LastLine(ReadOnlySpan<byte> line) => One(line, last: true);

    private void One(ReadOnlySpan<byte> line, bool last)
    {
        line = PlainLine.Trim(line, Line, Intake).Trim(" \t,"u8);
        var odd = line.IsEmpty ? OddityKind.BlankLine : Object(line);
        if (odd is { } kind)
            Intake.Oddities.Add(last && kind is not OddityKind.BlankLine ? OddityKind.TruncatedEnd : kind, Line);
    }

    private OddityKind? Object(ReadOnlySpan<byte> line)
    {
        for (int i = 0; i < s_columns.Length; i++)
            _fields.Starts[i] = _fields.Ends[i] = i * FieldBytes;
        _fields.Count = s_columns.Length;
        try
        {
            if (Fill(line) is not { } idIsNumber)
                return Intake.Entries is 0 ? OddityKind.BannerLine : OddityKind.NotUnderstood;
            var parser = idIsNumber ? _decimal : _hex;
            if (parser.Parse(_text, _fields) is { } odd)
                return parser.IsRow ? odd : OddityKind.NotUnderstood;
            Deliver(parser);
            return null;
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            return Intake.Entries is 0 ? OddityKind.BannerLine : OddityKind.NotUnderstood;
        }
    }

    private void Deliver(RowParser parser)
    {
        bool timeless = (parser.Notes & (RowNotes.NoTime | RowNotes.BadTime)) is not 0;
        long timeNs = _form.Unit is null ? Intake.Entries * NsPerEntry : timeless ? Intake.PreviousNs : parser.TimeNs;
        var name = _fields.Of(_text, parser.BusField);
        int bus = Intake.Bus(name.IsEmpty ? BusBook.Unnamed : name);
        Intake.Take(new CaptureFrame(timeNs, bus, parser.Id, parser.Traits, (byte)parser.Length), parser.Data, Line);
        if (timeless)
            Intake.Oddities.Add((parser.Notes & RowNotes.NoTime) is not 0 ? OddityKind.NoTime : OddityKind.BadTime, Line);
        if ((parser.Notes & RowNotes.ExtraBytes) is not 0)
            Intake.Oddities.Add(OddityKind.ExtraBytes, Line);
    }

    // Puts the values into fields; true when the identifier is a number, null when the line is no object.
    private bool? Fill(ReadOnlySpan<byte> line)
    {
        var reader = new Utf8JsonReader(line);
        if (!reader.Read() || reader.TokenType is not JsonTokenType.StartObject)
            return null;
        bool idIsNumber = false;
        while (reader.Read() && reader.TokenType is JsonTokenType.PropertyName)
        {
            int field = Array.IndexOf(s_columns, Role(reader.GetString()!));
            reader.Read();
            if (field < 0 || reader.TokenType is JsonTokenType.StartObject or JsonTokenType.Null)
            {
                reader.Skip();
                continue;
            }

            if (s_columns[field] is ColumnRole.Id)
                idIsNumber = reader.TokenType is JsonTokenType.Number;
            _fields.Ends[field] = _fields.Starts[field] + Value(ref reader, _text.AsSpan(_fields.Starts[field], FieldBytes));
        }

        return idIsNumber;
    }

    private static int Value(ref Utf8JsonReader reader, Span<byte> field)
    {
        if (reader.TokenType is JsonTokenType.StartArray)
            return Bytes(ref reader, field);
        if (reader.TokenType is JsonTokenType.True or JsonTokenType.False)
            return Put(reader.TokenType is JsonTokenType.True ? "1"u8 : "0"u8, field);
        if (reader.TokenType is JsonTokenType.String)
            return reader.ValueSpan.Length <= field.Length ? reader.CopyString(field) : 0;
        return Put(reader.ValueSpan, field);
    }

    // Numbers of an array as hexadecimal bytes; "?" makes the field unreadable.
    private static int Bytes(ref Utf8JsonReader reader, Span<byte> field)
    {
        int at = 0;
        while (reader.Read() && reader.TokenType is not JsonTokenType.EndArray)
        {
            if (reader.TokenType is JsonTokenType.Number && reader.TryGetByte(out byte value) && at + 2 <= field.Length)
                at += Encoding.ASCII.GetBytes(value.ToString("X2", System.Globalization.CultureInfo.InvariantCulture), field[at..]);
            else if (reader.TokenType is JsonTokenType.String && at + 3 <= field.Length && reader.ValueSpan.Length is 2)
                at += Put(reader.ValueSpan, field[at..]);
            else
                return Skip(ref reader, field);
        }

        return at;
    }

    private static int Skip(ref Utf8JsonReader reader, Span<byte> field)
    {
        while (reader.TokenType is not JsonTokenType.EndArray && reader.Read())
            reader.Skip();
        return Put("?"u8, field);
    }

    private static int Put(ReadOnlySpan<byte> value, Span<byte> field)
    {
        if (value.Length > field.Length)
            return 0;
        value.CopyTo(field);
        return value.Length;
    }

    private ColumnRole Role(string key)
    {
        if (!_roles.TryGetValue(key, out var role) && _roles.Count < 256)
            _roles[key] = role = _form.Role(key);
        return role;
    }
}
