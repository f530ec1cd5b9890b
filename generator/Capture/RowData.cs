using Locum.Model;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>Data bytes of tables: in one column, in a fixed number of columns, or in as many as there are.</summary>
internal sealed class RowData
{
    private const int Padding = 16;
    private const int ClassicMost = 8;

    private readonly NumberBase _numbers;
    private readonly bool _isNumber;
    private readonly int _packed;
    private readonly int[] _columns;
    private readonly bool _adjoining;
    private readonly byte[] _data = new byte[FdLengths.Most + Padding];

    public RowData(RowPlan plan)
    {
        _numbers = plan.DataBase;
        _isNumber = plan.DataIsNumber;
        _packed = plan.Find(ColumnRole.Data);
        Variadic = plan.Find(ColumnRole.Bytes);
        Behind = Variadic < 0 ? 0 : plan.Roles.Count - Variadic - 1;
        _columns = [.. plan.Roles.Select((r, i) => (r, i)).Where(c => c.r is ColumnRole.Byte).Select(c => c.i)];
        _adjoining = _columns.Length > 0 && _columns[^1] - _columns[0] == _columns.Length - 1;
    }

    /// <summary>Column from which bytes repeat; -1 when they do not.</summary>
    public int Variadic { get; }

    /// <summary>Columns behind those that repeat.</summary>
    public int Behind { get; }

    /// <summary>Bytes of the row.</summary>
    public int Count { get; private set; }

    /// <summary>Fields that repeating bytes took.</summary>
    public int Taken { get; private set; }

    /// <summary>The length was a length code of CAN FD.</summary>
    public bool IsCode { get; private set; }

    public RowNotes Notes { get; private set; }

    public ReadOnlySpan<byte> Data => _data;

    /// <summary>The last field that holds bytes of the row.</summary>
    public int LastField => _packed >= 0 ? _packed : Count is 0 ? -1 : Variadic >= 0 ? Variadic + Count - 1 : _columns[Count - 1];

    /// <summary>The last byte has one digit, although another has two.</summary>
    public bool LastIsShort(RowFields fields)
    {
        if (_packed >= 0 || Count is 0 || fields.LengthOf(LastField) is not 1)
            return false;
        for (int i = 0; i < Count - 1; i++)
        {
            if (fields.LengthOf(Variadic >= 0 ? Variadic + i : _columns[i]) is 2)
                return true;
        }

        return false;
    }

    /// <summary>Reads the bytes; null when that went well.</summary>
    /// <param name="text">The row, and at least 16 bytes behind it.</param>
    /// <param name="fields">Its fields.</param>
    /// <param name="given">The length; -1 when the row does not say.</param>
    public OddityKind? Read(ReadOnlySpan<byte> text, RowFields fields, int given)
    {
        (Notes, IsCode, Taken) = (RowNotes.None, false, 0);
        if (_packed >= 0)
            return Packed(text, fields, given);
        if (Variadic >= 0)
            return Repeating(text, fields, given);
        return Fixed(text, fields, given);
    }

    private OddityKind? Packed(ReadOnlySpan<byte> text, RowFields fields, int given)
    {
        int length = fields.LengthOf(_packed);
        if (length is 0)
        {
            Count = 0;
            return given > 0 ? OddityKind.BytesMissing : null;
        }

        int start = fields.Starts[_packed];
        if (length <= Digits.Block && _numbers is NumberBase.Hex && (length & 1) is 0 && Digits.Decode(text.Slice(start, Digits.Block), _data) >= length)
            Count = length / 2;
        else
            Count = ByteText.Any(text.Slice(start, length), _numbers, _data);
        if (_isNumber && given > 0 && Count < given)
        {
            if (!ByteText.Number(text.Slice(start, length), given, _data))
                return OddityKind.BadData;
            Notes |= RowNotes.Unpadded;
            Count = given;
        }

        return Count < 0 ? OddityKind.BadData : Agree(given);
    }

    private OddityKind? Fixed(ReadOnlySpan<byte> text, RowFields fields, int given)
    {
        int wanted = given < 0 ? _columns.Length : given;
        if (_adjoining && wanted <= _columns.Length && IsUsual(text, fields, _columns[0], wanted) && IsEmpty(fields, _columns[0] + wanted, _columns[^1] + 1))
        {
            Count = wanted;
            return null;
        }

        int count = 0;
        for (; count < _columns.Length; count++)
        {
            int at = _columns[count];
            int length = fields.LengthOf(at);
            if (length is 0)
                break;
            int value = Byte(text, fields.Starts[at], length);
            if (value < 0)
                return OddityKind.BadData;
            _data[count] = (byte)value;
        }

        if (count < _columns.Length && !IsEmpty(fields, _columns[count], _columns[^1] + 1))
            return OddityKind.BadData;
        Count = count;
        return Agree(given);
    }

    // Up to eight bytes of two digits, side by side with one character between, are read all at once.
    private bool IsUsual(ReadOnlySpan<byte> text, RowFields fields, int first, int count)
    {
        if (count is < 1 or > ClassicMost || _numbers is not NumberBase.Hex || fields.Count < first + count)
            return false;
        int start = fields.Starts[first];
        return fields.Ends[first + count - 1] - start == (3 * count) - 1 && Digits.DecodeSpaced(text.Slice(start, RowFields.Slack - 8), _data) >= count;
    }

    // A byte behind an empty column has lost its place.
    private static bool IsEmpty(RowFields fields, int from, int end)
    {
        for (int i = from; i < end; i++)
        {
            if (fields.LengthOf(i) > 0)
                return false;
        }

        return true;
    }

    private OddityKind? Repeating(ReadOnlySpan<byte> text, RowFields fields, int given)
    {
        if (IsUsual(text, fields, Variadic, given))
        {
            Count = Taken = given;
            return null;
        }

        int most = Math.Min(FdLengths.Most, fields.Count - Variadic - (given < 0 ? Behind : 0));
        // A length code stands for more bytes than its number.
        int code = given is > 8 and < 16 ? FdLengths.All[given] : -1;
        int wanted = code > 0 && code <= most ? code : given < 0 ? most : given;
        int count = 0;
        OddityKind? stop = null;
        while (count < wanted && stop is null)
        {
            int at = Variadic + count;
            int length = count < most ? fields.LengthOf(at) : 0;
            int value = length is 0 ? -1 : Byte(text, fields.Starts[at], length);
            if (value >= 0)
                _data[count++] = (byte)value;
            else
                stop = length is 0 ? OddityKind.BytesMissing : OddityKind.BadData;
        }

        if (given < 0 && stop is OddityKind.BadData && !IsTail(text, fields, Variadic + count))
            return stop;
        if (given < 0 && stop is OddityKind.BytesMissing && !IsEmpty(fields, Variadic + count, Variadic + most))
            return OddityKind.BadData;
        Count = Taken = count;
        if (given >= 0 && stop is not null && count < given)
            return stop;
        return Agree(given);
    }

    // Without a length, bytes end at the first field that is no byte, when that is a word.
    private static bool IsTail(ReadOnlySpan<byte> text, RowFields fields, int at) =>
        !fields.Of(text, at).ContainsAnyInRange((byte)'0', (byte)'9');

    private int Byte(ReadOnlySpan<byte> text, int start, int length)
    {
        if (length is 2 && _numbers is NumberBase.Hex)
        {
            int high = Digits.Value(text[start]);
            int low = Digits.Value(text[start + 1]);
            if ((high | low) <= 15)
                return (high << 4) | low;
        }

        return ByteText.One(text.Slice(start, length), _numbers);
    }

    private OddityKind? Agree(int given)
    {
        if (given < 0 || given == Count)
            return null;
        if (given > 8 && given < FdLengths.All.Count && FdLengths.All[given] == Count)
        {
            IsCode = true;
            return null;
        }

        if (given > Count)
            return OddityKind.BytesMissing;
        Notes |= RowNotes.ExtraBytes;
        Count = given;
        return null;
    }
}
