using System.Runtime.CompilerServices;
using Locum.Model;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>What the fields of a row say as a frame. Holds the values of one row at a time.</summary>
internal sealed class RowParser
{
    private const int ClassicMost = 8;
    private const int Unknown = -1;

    private readonly RowPlan _plan;
    private readonly RowTime? _time;
    private readonly RowId _ids;
    private readonly RowData _bytes;
    private readonly int _timeAt;
    private readonly int _dateAt;
    private readonly int _fractionAt;
    private readonly int _idAt;
    private readonly int _busAt;
    private readonly int _lengthAt;
    private readonly int _extendedAt;
    private readonly int _least;
    private readonly (int At, FrameTraits Traits)[] _flags;

    public RowParser(RowPlan plan)
    {
        _plan = plan;
        _time = plan.Unit is { } unit ? new RowTime(unit, plan.Mark, plan.MonthFirst) : null;
        _ids = new RowId(plan);
        _bytes = new RowData(plan);
        _timeAt = plan.Find(ColumnRole.Time);
        _dateAt = plan.Find(ColumnRole.Date);
        _fractionAt = plan.Find(ColumnRole.Fraction);
        _idAt = plan.Find(ColumnRole.Id);
        _busAt = plan.Find(ColumnRole.Bus);
        _lengthAt = plan.Find(ColumnRole.Length);
        _extendedAt = plan.Find(ColumnRole.Extended);
        _least = Math.Max(_idAt, _bytes.Variadic < 0 ? _lengthAt : -1);
        _flags =
        [
            .. plan.Roles.Select((r, i) => (i, Flag(r))).Where(f => f.Item2 is not FrameTraits.None || plan.Roles[f.i] is ColumnRole.Kind),
        ];
    }

    /// <summary>Nanoseconds; only with <see cref="RowNotes"/> that tell no fault of the time.</summary>
    public long TimeNs { get; private set; }

    public uint Id { get; private set; }

    public FrameTraits Traits { get; private set; }

    /// <summary>Data bytes, or those asked for by a remote frame.</summary>
    public int Length { get; private set; }

    /// <summary>Number of the field with the bus; -1 when there is none.</summary>
    public int BusField { get; private set; }

    public RowNotes Notes { get; private set; }

    /// <summary>Time and identifier could be read, or time and length, so that the row is one of the table whatever its fault.</summary>
    public bool IsRow { get; private set; }

    public ReadOnlySpan<byte> Data => _bytes.Data[..(((Traits & (FrameTraits.Remote | FrameTraits.Error)) is 0) ? Length : 0)];

    /// <summary>True when the row may have had more than this, were it the last one of a file that was cut off.</summary>
    public bool MayBeCut(RowFields fields)
    {
        if ((Traits & (FrameTraits.Remote | FrameTraits.Error)) is not 0)
            return false;
        int last = _bytes.LastField;
        if (last < fields.Count - 1)
            return false;
        bool known = fields.LengthOf(_lengthAt) > 0 || Length is ClassicMost or FdLengths.Most;
        return !known || _bytes.LastIsShort(fields);
    }

    /// <summary>Reads a row; null when it is a frame, otherwise why not.</summary>
    /// <param name="text">The row, and at least 16 bytes behind it.</param>
    /// <param name="fields">Its fields.</param>
    public OddityKind? Parse(ReadOnlySpan<byte> text, RowFields fields)
    {
        Notes = RowNotes.None;
        IsRow = false;
        if (_time is not null)
            Time(text, fields);
        if (fields.LengthOf(_idAt) is 0)
        {
            IsRow = _time is not null && Notes is RowNotes.None;
            return OddityKind.MissingColumns;
        }

        Traits = _ids.Read(text[fields.Starts[_idAt]..], fields.LengthOf(_idAt));
        if (Traits == RowId.Bad && KindWords.IsError(fields.Of(text, _idAt)))
            return Error(fields);
        IsRow = (Notes & RowNotes.BadTime) is 0;
        if (Traits == RowId.Bad)
        {
            IsRow &= _time is not null && _lengthAt >= 0 && RowLength.Read(fields.Of(text, _lengthAt), _plan.LengthBase, out _) >= 0;
            return OddityKind.BadId;
        }

        Id = _ids.Value;
        return Rest(text, fields);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Time(ReadOnlySpan<byte> text, RowFields fields)
    {
        int length = fields.LengthOf(_timeAt);
        if (length is 0)
            Notes |= RowNotes.NoTime;
        else if (_time!.Read(text[fields.Starts[_timeAt]..], length, fields.Of(text, _dateAt), fields.Of(text, _fractionAt)) is { } ns)
            TimeNs = ns;
        else
            Notes |= RowNotes.BadTime;
    }

    private OddityKind? Rest(ReadOnlySpan<byte> text, RowFields fields)
    {
        int given = Unknown;
        if (_lengthAt >= 0 && fields.LengthOf(_lengthAt) > 0)
        {
            var field = fields.Of(text, _lengthAt);
            if (field.Length is 1 && (uint)(field[0] - '0') <= 9)
            {
                given = field[0] - '0';
            }
            else
            {
                given = RowLength.Read(field, _plan.LengthBase, out var lengthTraits);
                if (given < 0)
                    return OddityKind.BadLength;
                Traits |= lengthTraits;
            }
        }

        // Columns behind bytes that repeat can be found only when these have been counted.
        int shift = 0;
        foreach (var (at, traits) in _flags)
        {
            if ((_bytes.Variadic < 0 || at < _bytes.Variadic) && Flag(fields.Of(text, at), traits) is { } odd)
                return odd;
        }

        if ((Traits & FrameTraits.Error) is not 0)
            return Error(fields);
        if (_extendedAt >= 0 && (_bytes.Variadic < 0 || _extendedAt < _bytes.Variadic) && Extended(fields.Of(text, _extendedAt)) is { } wrong)
            return wrong;
        bool remote = (Traits & FrameTraits.Remote) is not 0;
        var result = remote ? null : _bytes.Read(text, fields, given);
        if (result is { } bad)
            return bad;
        // Without its length an empty row is no frame of no bytes but one that ends too early.
        if (!remote && _lengthAt >= 0 && given < 0 && _bytes.Count is 0)
            return OddityKind.MissingColumns;
        if (_bytes.Variadic >= 0)
            shift = (remote ? 0 : _bytes.Taken) - 1;
        if (shift is not 0)
        {
            foreach (var (at, traits) in _flags)
            {
                if (at > _bytes.Variadic && Flag(fields.Of(text, at + shift), traits) is { } odd)
                    return odd;
            }
        }

        BusField = _busAt >= 0 && _bytes.Variadic >= 0 && _busAt > _bytes.Variadic ? _busAt + shift : _busAt;
        return Finish(remote, given);
    }

    private OddityKind? Finish(bool remote, int given)
    {
        Length = remote ? Math.Max(given, 0) : _bytes.Count;
        if (remote)
            return Length > ClassicMost ? OddityKind.BadLength : null;
        if (_bytes.Count > ClassicMost || _bytes.IsCode)
            Traits |= FrameTraits.Fd;
        if (_bytes.Count > ClassicMost && FdLengths.Code(_bytes.Count) is null)
            return OddityKind.BadLength;
        Notes |= _bytes.Notes | _ids.Notes;
        return null;
    }

    private OddityKind? Extended(ReadOnlySpan<byte> field)
    {
        bool extended;
        if (field.Length is 1 && field[0] is (byte)'0' or (byte)'1')
            extended = field[0] is (byte)'1';
        else if (KindWords.Says(field, FrameTraits.Extended) is { } said)
            extended = said;
        else
            return OddityKind.NotUnderstood;
        if (extended)
            Traits |= FrameTraits.Extended;
        else if (Id <= CanId.MaxStandard)
            Traits &= ~FrameTraits.Extended;
        else
            Notes |= RowNotes.ExtendedByValue;
        return null;
    }

    private OddityKind? Flag(ReadOnlySpan<byte> field, FrameTraits traits)
    {
        if (traits is FrameTraits.None)
        {
            if (field.IsEmpty || field is [(byte)'d'] or [(byte)'D'])
                return null;
            if (KindWords.Traits(field) is not { } kind)
                return OddityKind.NotUnderstood;
            Traits |= kind;
            return null;
        }

        if (KindWords.Says(field, traits) is not { } yes)
            return OddityKind.NotUnderstood;
        if (yes)
            Traits |= traits;
        return null;
    }

    private OddityKind? Error(RowFields fields)
    {
        (Id, Length, Traits) = (0, 0, FrameTraits.Error);
        BusField = _busAt >= 0 && _busAt < fields.Count && (_busAt < _idAt || _bytes.Variadic < 0) ? _busAt : Unknown;
        IsRow = true;
        return null;
    }

    private static FrameTraits Flag(ColumnRole role) => role switch
    {
        ColumnRole.Remote => FrameTraits.Remote,
        ColumnRole.Error => FrameTraits.Error,
        ColumnRole.Fd => FrameTraits.Fd,
        ColumnRole.RateSwitched => FrameTraits.Fd | FrameTraits.RateSwitched,
        ColumnRole.ErrorPassive => FrameTraits.ErrorPassive,
        _ => FrameTraits.None,
    };
}
