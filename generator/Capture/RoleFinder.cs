using System.Globalization;
using Locum.Model;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>Decides what each column of a table holds: by its name where the contents agree, otherwise by its contents.</summary>
internal sealed class RoleFinder
{
    private const double Enough = 0.8;
    private const int FewPoints = 2;
    private const int ManyPoints = 4;
    private const int FewRows = 4;
    private const int UsualRows = 10;
    private const int ManyFractions = 40;

    private readonly SampleTable _table;
    private readonly HeaderLine? _header;
    private readonly ColumnStats[] _columns;
    private readonly ColumnGuess?[] _roles;
    private int _behind = -1;

    private RoleFinder(SampleTable table, HeaderLine? header)
    {
        _table = table;
        _header = header;
        _columns = [.. Enumerable.Range(0, Math.Min(table.MostFields, RowFields.Most)).Select(i => new ColumnStats([.. table.Column(i)]))];
        _roles = new ColumnGuess?[_columns.Length];
    }

    /// <summary>One guess per column, the last one perhaps for all that follow; null when no identifier or no data was found.</summary>
    public static IReadOnlyList<ColumnGuess>? Find(SampleTable table, HeaderLine? header)
    {
        if (table.Typical.Count is 0)
            return null;
        var finder = new RoleFinder(table, header);
        finder.ByName();
        finder.Time();
        if (!finder.Data() || !finder.Id())
            return null;
        finder.Rest();
        return finder.Collect();
    }

    private void ByName()
    {
        for (int i = 0; i < _columns.Length; i++)
        {
            var word = Word(i);
            if (word is null || !(Agrees(word, _columns[i], i) || IsMoved(word, i)))
                continue;
            bool free = word.Role is ColumnRole.Other or ColumnRole.Byte or ColumnRole.Kind || _roles.All(r => r?.Role != word.Role);
            if (free)
                _roles[i] = new ColumnGuess(word.Role, ColumnGuess.Certain, $"named '{Name(i)}'");
        }

        // Names in a table cut at blanks need not stand above their columns.
        if (_header is not null && _table.IsBlanks && Misplaced())
            Array.Clear(_roles);
        // Data in one named column, or in all columns from there.
        int data = At(ColumnRole.Data);
        if (data >= 0 && _columns[data].ByteShare >= Enough && _header!.Names.Count <= data + 1 && _columns.Length > data + 1)
            _roles[data] = _roles[data]! with { Role = ColumnRole.Bytes };
    }

    // In a row of columns of bytes, short rows may have moved what stands behind them.
    private bool IsMoved(HeaderWord word, int column) =>
        word.Role is ColumnRole.Byte && column > 0 && _roles[column - 1]?.Role is ColumnRole.Byte && _columns[column].ByteShare > 0;

    // A known name up to the data that its column contradicts.
    private bool Misplaced()
    {
        int end = _header!.Words.Index().Where(w => w.Item?.Role is ColumnRole.Data or ColumnRole.Byte).Select(w => w.Index).DefaultIfEmpty(_header.Words.Count).First();
        return Enumerable.Range(0, Math.Min(end, _roles.Length)).Any(i => _header.Words[i] is not null && _roles[i] is null);
    }

    private HeaderWord? Word(int column)
    {
        if (_header is not null && column < _header.Words.Count && (!_table.IsBlanks || Aligned()))
            return _header.Words[column];
        // A label that is the same in all rows names what follows it.
        if (column > 0 && _columns[column - 1] is { Distinct: 1 } label && label.Filled[0][^1] is ':' or '=')
            return HeaderWords.Of(label.Filled[0]);
        return null;
    }

    private bool Aligned() => _header!.Names.Count == _table.Width || (_header.Words[^1]?.Role is ColumnRole.Data && _header.Names.Count <= _table.Width + 1)
        || _header.Words.Any(w => w?.Role is ColumnRole.Data);

    private string Name(int column) =>
        _header is not null && column < _header.Names.Count && HeaderWords.Of(_header.Names[column]) is not null ? _header.Names[column] : _columns[column - 1].Filled[0];

    private static bool Agrees(HeaderWord word, ColumnStats column, int index)
    {
        if (column.IsEmpty)
            return word.Role is not (ColumnRole.Id or ColumnRole.Time);
        return word.Role switch
        {
            ColumnRole.Id => column.IdShare >= Enough,
            ColumnRole.Time => column.DecimalShare >= Enough || column.ClockShare >= Enough,
            ColumnRole.Date => column.DateShare >= Enough,
            ColumnRole.Length => column.LengthShare >= Enough,
            ColumnRole.Byte => column.ByteShare >= Enough,
            ColumnRole.Data => column.Filled.Count(f => Token.NumberBytes(f) >= 0) >= Enough * column.Filled.Count,
            ColumnRole.Kind => column.KindShare >= Enough,
            ColumnRole.Extended or ColumnRole.Remote or ColumnRole.Error or ColumnRole.Fd or ColumnRole.RateSwitched or ColumnRole.ErrorPassive =>
                column.Filled.Count(f => KindWords.Says(f, FrameTraits.Extended) is not null) >= Enough * column.Filled.Count,
            ColumnRole.Bus => column.Distinct <= 16,
            _ => index >= 0,
        };
    }

    private void Time()
    {
        if (!Fraction() && At(ColumnRole.Time) < 0 && Best(TimePoints) is var (column, points, reason) && points >= 3)
            _roles[column] = new ColumnGuess(ColumnRole.Time, points >= 5 ? ColumnGuess.Likely + 1 : ColumnGuess.Likely, reason);
        int time = At(ColumnRole.Time);
        for (int i = 0; i < _columns.Length && time >= 0; i++)
        {
            if (_roles[i] is null && _columns[i].DateShare >= Enough && _columns[time].ClockShare >= Enough && _columns[time].Filled.All(f => f.Length < 20))
                _roles[i] = new ColumnGuess(ColumnRole.Date, ColumnGuess.Certain, "dates");
        }
    }

    // A decimal comma where commas separate columns: seconds and their fraction stand side by side.
    private bool Fraction()
    {
        if (_table.Separator is not (byte)',' || At(ColumnRole.Time) >= 0)
            return false;
        for (int i = 0; i + 1 < _columns.Length; i++)
        {
            var (whole, part) = (_columns[i], _columns[i + 1]);
            var widths = part.Filled.Select(f => f.Length).Distinct().ToList();
            if (_roles[i] is not null || _roles[i + 1] is not null || whole.IntegerShare < 1 || part.IntegerShare < 1 || whole.Rising < 0.95 || whole.IsRowNumber)
                continue;
            if (widths is not [3 or 6 or 9] || part.Distinct < Math.Min(part.Filled.Count / 2, ManyFractions) || whole.Distinct > whole.Filled.Count / 2)
                continue;
            var joined = new ColumnStats([.. whole.Fields.Zip(part.Fields, (a, b) => $"{a}.{b}")]);
            if (joined.Rising < 0.95)
                continue;
            _roles[i] = new ColumnGuess(ColumnRole.Time, ColumnGuess.Likely, "whole numbers that rise with the column behind them");
            _roles[i + 1] = new ColumnGuess(ColumnRole.Fraction, ColumnGuess.Likely, "digits behind a decimal comma");
            return true;
        }

        return false;
    }

    private static (int Points, string Reason) TimePoints(ColumnStats column, int index)
    {
        if (column.Filled.Count < column.Fields.Count * Enough)
            return (0, "");
        if (column.ClockShare >= Enough)
            return (6, "times of day");
        if (column.DecimalShare < Enough || column.IsRowNumber)
            return (0, "");
        bool rising = column.Rising >= 0.9;
        bool many = column.Distinct > Math.Min(column.Filled.Count / 3, 20);
        int points = (column.FractionShare >= Enough ? 3 : 0) + (rising ? 1 : 0) + (many ? 1 : 0) + (rising && many && column.Filled.Count > FewRows ? 1 : 0) + (index is 0 ? 1 : 0);
        if (column.FractionShare < Enough && (column.HasPrefix || column.HasLetters || !many || !rising || (column.Filled.Count < UsualRows && column.Numbers.OfType<decimal>().DefaultIfEmpty().Max() < 100)))
            return (0, "");
        return (points, column.FractionShare >= Enough ? "decimal fractions that rise" : "whole numbers that rise");
    }

    private bool Data()
    {
        int length = At(ColumnRole.Length);
        if (At(ColumnRole.Bytes) >= 0)
            return true;
        if (At(ColumnRole.Byte) is >= 0 and var first)
            return Named(first, length);
        int data = At(ColumnRole.Data);
        if (data >= 0 && (_columns[data].ByteShare < Enough || _columns.Length <= data + 1 || !_table.IsBlanks))
            return true;
        var taken = Enumerable.Range(0, _roles.Length).Where(i => _roles[i] is { Role: not (ColumnRole.Length or ColumnRole.Data) }).ToHashSet();
        if (DataFinder.Find(_table, _columns, taken, length) is not { } place)
            return data >= 0;
        if (place.Length >= 0 && length < 0)
            _roles[place.Length] = new ColumnGuess(ColumnRole.Length, ColumnGuess.Certain, place.Packed ? "as many bytes follow" : "so many bytes follow");
        Place(place);
        return true;
    }

    private void Place(DataPlace place)
    {
        int points = place.Length >= 0 ? ColumnGuess.Certain : ColumnGuess.Likely;
        string reason = place.Length >= 0 ? "as many as the length says" : place.Packed ? "pairs of hexadecimal digits" : "columns of bytes side by side";
        if (place.Packed)
            _roles[place.First] = new ColumnGuess(ColumnRole.Data, points, reason);
        else if (place.Columns is 0)
            _roles[place.First] = new ColumnGuess(ColumnRole.Bytes, points, reason);
        for (int i = 0; i < place.Columns; i++)
            _roles[place.First + i] = new ColumnGuess(ColumnRole.Byte, points, reason);
        _behind = place.Columns is 0 && !place.Packed ? place.Behind : -1;
    }

    // Named columns of bytes repeat when short rows move what stands behind them.
    private bool Named(int first, int length)
    {
        int count = _roles.Count(r => r?.Role is ColumnRole.Byte);
        bool moves = length >= 0 && _table.Typical.Any(r => r.Fields.Length < _columns.Length)
            && _table.Typical.Any(r => r.Fields.Length < _columns.Length && Behind(r, length, first) == _columns.Length - first - count)
            && _columns.Length > first + count;
        if (!moves)
            return true;
        _behind = _columns.Length - first - count;
        for (int i = first; i < first + count; i++)
            _roles[i] = null;
        _roles[first] = new ColumnGuess(ColumnRole.Bytes, ColumnGuess.Certain, $"named '{Name(first)}'; short rows are short");
        return true;
    }

    private static int Behind(SampleRow row, int length, int first) =>
        length < row.Fields.Length && Token.Length(row.Fields[length]) is >= 0 and var count ? row.Fields.Length - first - count : -1;

    private bool Id()
    {
        if (At(ColumnRole.Id) >= 0)
            return true;
        // Any table of numbers has columns that could be identifiers and bytes; without a length to agree with, more must speak for it.
        bool agreed = At(ColumnRole.Length) >= 0 || _roles.Any(r => r is { Role: ColumnRole.Data or ColumnRole.Byte or ColumnRole.Bytes, Points: >= ColumnGuess.Certain });
        if (Best(IdPoints) is not var (column, points, reason) || points < (agreed ? FewPoints : ManyPoints))
            return false;
        _roles[column] = new ColumnGuess(ColumnRole.Id, points >= 4 ? ColumnGuess.Certain : points >= 2 ? ColumnGuess.Likely : 1, reason);
        return true;
    }

    private (int Points, string Reason) IdPoints(ColumnStats column, int index)
    {
        if (column.IdShare < Enough || column.IsRowNumber || (column.FractionShare > 0))
            return (0, "");
        int data = Math.Max(At(ColumnRole.Bytes), Math.Max(At(ColumnRole.Data), At(ColumnRole.Byte)));
        bool usual = column.Widths.All(w => w is 3 or 8);
        int points = 1
            + (column.HasPrefix ? 2 : 0) + (column.HasMark ? 3 : 0) + (usual ? 2 : 0) + (column.HasLetters ? 1 : 0)
            + (column.Distinct >= 2 ? 1 : 0) + (column.Distinct < 0.7 * column.Filled.Count || column.Filled.Count <= FewRows ? 1 : 0)
            + (index < data ? 1 : 0);
        bool small = column.Filled.All(f => Token.IdDigits(f) is { Length: <= 1 });
        if (small)
            points -= 4;
        if (column.Rising > 0.95 && column.Distinct > column.Filled.Count / 2 && column.Filled.Count > FewRows)
            points -= 4;
        string widths = string.Join(" or ", column.Widths);
        return (points, column.HasMark ? "numbers with x behind those of 29 bits" : usual ? $"numbers of {widths} digits that repeat" : "numbers that repeat");
    }

    private void Rest()
    {
        int data = Math.Max(At(ColumnRole.Bytes), Math.Max(At(ColumnRole.Data), At(ColumnRole.Byte)));
        int end = At(ColumnRole.Bytes) is >= 0 and var bytes ? bytes : _columns.Length;
        int id = At(ColumnRole.Id);
        for (int i = 0; i < end; i++)
            _roles[i] ??= Other(i, id, data);
    }

    private ColumnGuess Other(int index, int id, int data)
    {
        var column = _columns[index];
        if (column.IsEmpty)
            return new ColumnGuess(ColumnRole.Other, ColumnGuess.Certain, "empty");
        if (column.DirectionShare >= 1 && !(column.KindShare >= 1 && column.Distinct is 1 && column.Filled[0] is "r" or "R"))
            return new ColumnGuess(ColumnRole.Other, ColumnGuess.Certain, "directions");
        if (At(ColumnRole.Kind) < 0 && IsKind(column, id))
            return new ColumnGuess(ColumnRole.Kind, ColumnGuess.Likely, $"words such as '{column.Filled[0]}'");
        if (column.IsRowNumber)
            return new ColumnGuess(ColumnRole.Other, ColumnGuess.Likely, "row numbers");
        if (At(ColumnRole.Extended) < 0 && FollowsKind(column, id))
            return new ColumnGuess(ColumnRole.Extended, ColumnGuess.Likely, "says yes for identifiers above 0x7FF only");
        if (At(ColumnRole.Bus) < 0 && index < data && column.BusNameShare >= 1 && column.Distinct <= 16)
            return new ColumnGuess(ColumnRole.Bus, ColumnGuess.Likely, "a few names with numbers");
        if (At(ColumnRole.Bus) < 0 && index < data && column.Filled.Count == column.Fields.Count && column.Filled.All(f => char.IsAsciiLetter(f[0]) && KindWords.Says(f, FrameTraits.Extended) is null) && column.Distinct <= 4 && 3 * column.Distinct <= _columns[id].Distinct + 2 && StaysWithId(column, id))
            return new ColumnGuess(ColumnRole.Bus, 1, "a few words");
        bool few = column.IntegerShare >= 1 && column.Distinct <= 8 && column.Filled.All(f => f.Length <= 2) && column.Filled.Count == column.Fields.Count;
        if (At(ColumnRole.Bus) < 0 && index < data && few && index < Math.Max(id, At(ColumnRole.Length)) && StaysWithId(column, id))
            return new ColumnGuess(ColumnRole.Bus, column.Distinct > 1 ? ColumnGuess.Likely : 1, "a few small numbers");
        return new ColumnGuess(ColumnRole.Other, 1, "says nothing of frames");
    }

    // Words for kinds, not letters that happen to be such words: they agree with the digits of the identifiers, and most rows are data.
    private bool IsKind(ColumnStats column, int id)
    {
        if (column.KindShare < 1 || column.IntegerShare >= 1)
            return false;
        var kinds = column.Fields.Select(f => f.Length is 0 ? FrameTraits.None : KindWords.Traits(f) ?? FrameTraits.None).ToList();
        bool contradicted = kinds.Zip(_columns[id].Fields).Any(p => (p.First & FrameTraits.Extended) is not 0 && Token.IdDigits(p.Second) is { Length: <= 3 });
        return !contradicted && 2 * kinds.Count(k => (k & (FrameTraits.Remote | FrameTraits.Error)) is 0) > kinds.Count;
    }

    private bool FollowsKind(ColumnStats column, int id)
    {
        var said = column.Fields.Select(f => KindWords.Says(f, FrameTraits.Extended)).ToList();
        return said.All(s => s is not null) && said.Distinct().Count() is 2 && (Fits(16) || Fits(10));

        bool Fits(int numberBase) => said.Zip(_columns[id].Fields).All(p => p.First == IsLarge(p.Second, numberBase));
    }

    private static bool IsLarge(string field, int numberBase) =>
        Token.IdDigits(field) is { } digits
        && uint.TryParse(digits, numberBase is 16 ? NumberStyles.AllowHexSpecifier : NumberStyles.None, CultureInfo.InvariantCulture, out uint id) && id > CanId.MaxStandard;

    // An identifier is mostly seen on one bus.
    private bool StaysWithId(ColumnStats column, int id)
    {
        if (column.Distinct is 1)
            return true;
        var byId = column.Fields.Zip(_columns[id].Fields).GroupBy(p => p.Second, p => p.First).ToList();
        return byId.Count(g => g.Distinct().Count() is 1) >= 0.7 * byId.Count;
    }

    private IReadOnlyList<ColumnGuess> Collect()
    {
        int bytes = At(ColumnRole.Bytes);
        var all = _roles.Select(r => r ?? new ColumnGuess(ColumnRole.Other, 1, "says nothing of frames")).ToList();
        if (bytes < 0)
            return all;
        var found = all.Take(bytes + 1).ToList();
        if (_behind <= 0)
            return found;
        for (int i = 0; i < _behind; i++)
        {
            // Counted from the end, as short rows are short.
            var fields = _table.Typical.Where(r => r.Fields.Length > _behind - i).Select(r => r.Fields[^(_behind - i)]).ToList();
            var column = new ColumnStats(fields);
            bool bus = column.BusNameShare >= 1 && column.Distinct <= 16 && found.All(f => f.Role is not ColumnRole.Bus);
            found.Add(bus ? new ColumnGuess(ColumnRole.Bus, ColumnGuess.Likely, "a few names with numbers") : new ColumnGuess(ColumnRole.Other, 1, "says nothing of frames"));
        }

        return found;
    }

    private int At(ColumnRole role) => Array.FindIndex(_roles, r => r?.Role == role);

    private (int Column, int Points, string Reason)? Best(Func<ColumnStats, int, (int Points, string Reason)> judge)
    {
        (int Column, int Points, string Reason)? best = null;
        int end = At(ColumnRole.Bytes) is >= 0 and var bytes ? bytes : _columns.Length;
        for (int i = 0; i < end; i++)
        {
            if (_roles[i] is not null)
                continue;
            var (points, reason) = judge(_columns[i], i);
            if (best is null || points > best.Value.Points)
                best = (i, points, reason);
        }

        return best;
    }
}
