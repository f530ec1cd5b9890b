using System.Text;
using Locum.Model;

namespace Locum.Capture;

/// <summary>Decides how numbers of a table are written, by the layout, the header, and the digits that occur.</summary>
internal static class NumberJudge
{
    // So many values of several digits without any letter are no chance: (10/16)^2 each.
    private const int Many = 6;

    /// <summary>The plan with what is known of its numbers.</summary>
    /// <param name="plan">Columns and separator.</param>
    /// <param name="table">The rows.</param>
    /// <param name="header">Names of columns; null when there are none.</param>
    /// <param name="layout">What the author knows; null when nothing.</param>
    /// <param name="notes">What was decided, by column.</param>
    public static RowPlan Judge(RowPlan plan, SampleTable table, HeaderLine? header, TableLayout? layout, out IReadOnlyDictionary<ColumnRole, string> notes)
    {
        var said = new Dictionary<ColumnRole, string>();
        notes = said;
        var ids = new ColumnStats([.. table.Column(plan.Find(ColumnRole.Id))]);
        var idBase = layout?.IdBase ?? Named(header, ColumnRole.Id) ?? IdBase(ids);
        said[ColumnRole.Id] = idBase is NumberBase.Hex ? "hexadecimal" : "decimal";
        var kind = layout?.IdKind ?? KindRule(ids);
        if (plan.Find(ColumnRole.Extended) < 0 && kind is IdKindRule.ByDigits)
            said[ColumnRole.Id] += ", 29 bits when written with 8 digits";
        var data = DataFields(plan, table);
        var dataBase = layout?.DataBase ?? Named(header, ColumnRole.Byte) ?? Named(header, ColumnRole.Data) ?? DataBase(data);
        foreach (var role in (ColumnRole[])[ColumnRole.Byte, ColumnRole.Bytes, ColumnRole.Data])
            said[role] = dataBase is NumberBase.Hex ? "hexadecimal" : "decimal";
        int time = plan.Find(ColumnRole.Time);
        bool comma = layout?.DecimalComma ?? (time >= 0 && IsComma(table.Column(time), plan.Separator));
        if (comma)
            said[ColumnRole.Time] = "with a decimal comma";
        return plan with
        {
            IdBase = idBase,
            IdKind = kind,
            DataBase = dataBase,
            DataIsNumber = IsNumber(plan, table),
            Mark = comma ? (byte)',' : (byte)'.',
            MonthFirst = IsMonthFirst(plan, table),
        };
    }

    private static NumberBase? Named(HeaderLine? header, ColumnRole role) =>
        header?.Words.Where(w => w?.Role == role).Select(w => w!.Base).FirstOrDefault(b => b is not null);

    private static NumberBase IdBase(ColumnStats ids)
    {
        if (ids.HasLetters || ids.HasPrefix || ids.HasMark)
            return NumberBase.Hex;
        // Padded numbers are hexadecimal.
        if (ids.Filled.Any(f => f.Length > 1 && f[0] is '0'))
            return NumberBase.Hex;
        // No digit above 9 in many identifiers, or one that would be too large: decimal.
        return ids.Distinct >= Many || ids.Widths.Any(w => w > 8) ? NumberBase.Decimal : NumberBase.Hex;
    }

    private static IdKindRule KindRule(ColumnStats ids)
    {
        if (ids.HasMark)
            return IdKindRule.ByValue;
        var widths = ids.Filled.Select(Token.IdDigits).OfType<string>().Select(d => d.Length).Distinct().ToList();
        return widths.Contains(8) && widths.Any(w => w <= 4) && widths.All(w => w is <= 4 or 8) ? IdKindRule.ByDigits : IdKindRule.ByValue;
    }

    private static IReadOnlyList<string> DataFields(RowPlan plan, SampleTable table)
    {
        int bytes = plan.Find(ColumnRole.Bytes);
        int length = plan.Find(ColumnRole.Length);
        if (bytes >= 0)
        {
            return
            [
                .. table.Typical.SelectMany(r => r.Fields.Skip(bytes)
                    .Take(length >= 0 && length < r.Fields.Length ? Math.Max(0, Token.Length(r.Fields[length])) : int.MaxValue)
                    .TakeWhile(Token.IsByte)),
            ];
        }

        int data = plan.Find(ColumnRole.Data);
        if (data >= 0)
            return [.. table.Column(data).SelectMany(f => f.Split([' ', '-', ':', ',', ';', '[', ']', '|'], StringSplitOptions.RemoveEmptyEntries)).Where(Token.IsByte)];
        return [.. plan.Roles.SelectMany((r, i) => r is ColumnRole.Byte ? table.Column(i) : []).Where(f => f.Length > 0)];
    }

    private static NumberBase DataBase(IReadOnlyList<string> bytes)
    {
        var plain = bytes.Where(b => !b.StartsWith("0x", StringComparison.OrdinalIgnoreCase)).ToList();
        if (plain.Any(b => b.Any(char.IsAsciiLetter)))
            return NumberBase.Hex;
        if (plain.Any(b => b.Length is 3))
            return NumberBase.Decimal;
        if (plain.Any(b => b.Length is 2 && b[0] is '0'))
            return NumberBase.Hex;
        return plain.Where(b => b.Length is 2).Distinct(StringComparer.Ordinal).Count() >= Many ? NumberBase.Decimal : NumberBase.Hex;
    }

    private static bool IsComma(IEnumerable<string> times, byte separator) =>
        separator is not (byte)',' && times.Any(t => t.Contains(',', StringComparison.Ordinal) && !t.Contains(':', StringComparison.Ordinal));

    // Odd numbers of digits, fewer than the length asks for, never with a zero in front.
    private static bool IsNumber(RowPlan plan, SampleTable table)
    {
        int data = plan.Find(ColumnRole.Data);
        int length = plan.Find(ColumnRole.Length);
        if (data < 0 || length < 0)
            return false;
        int odd = 0;
        foreach (var row in table.Typical.Where(r => r.Fields.Length > Math.Max(data, length)))
        {
            var digits = row.Fields[data].StartsWith("0x", StringComparison.OrdinalIgnoreCase) ? row.Fields[data][2..] : row.Fields[data];
            int wanted = 2 * Token.Length(row.Fields[length]);
            if (!Token.IsHex(digits) || digits.Length >= wanted)
                continue;
            if (digits[0] is '0' && digits.Length > 1)
                return false;
            odd += digits.Length % 2;
        }

        return odd >= 2;
    }

    private static bool IsMonthFirst(RowPlan plan, SampleTable table)
    {
        int column = plan.Find(ColumnRole.Date) is >= 0 and var date ? date : plan.Find(ColumnRole.Time);
        return column >= 0 && table.Column(column).Select(f => f.Split(' ', 'T')[0]).Any(f => f.Contains('/', StringComparison.Ordinal) && Token.Days(f, false) is null && Token.Days(f, true) is not null);
    }
}
