using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Binding;

/// <summary>Syntax → layout of a table of frames.</summary>
public static class LayoutBinder
{
    public const int MostColumns = 128;
    public const int MostSkipped = 1_000_000;

    private static readonly Dictionary<string, char> s_separators = new(StringComparer.Ordinal)
    {
        ["comma"] = ',',
        ["semicolon"] = ';',
        ["tab"] = '\t',
        ["bar"] = '|',
        ["blanks"] = ' ',
    };

    private static readonly Dictionary<string, ColumnRole> s_roles = new(StringComparer.Ordinal)
    {
        ["time"] = ColumnRole.Time,
        ["date"] = ColumnRole.Date,
        ["fraction"] = ColumnRole.Fraction,
        ["id"] = ColumnRole.Id,
        ["extended"] = ColumnRole.Extended,
        ["bus"] = ColumnRole.Bus,
        ["length"] = ColumnRole.Length,
        ["data"] = ColumnRole.Data,
        ["data..."] = ColumnRole.Bytes,
        ["byte"] = ColumnRole.Byte,
        ["kind"] = ColumnRole.Kind,
        ["remote"] = ColumnRole.Remote,
        ["error"] = ColumnRole.Error,
        ["fd"] = ColumnRole.Fd,
        ["switch rate"] = ColumnRole.RateSwitched,
        ["error passive"] = ColumnRole.ErrorPassive,
        ["other"] = ColumnRole.Other,
    };

    private static readonly Dictionary<string, TimeUnit> s_units = new(StringComparer.Ordinal)
    {
        ["s"] = TimeUnit.Seconds,
        ["ms"] = TimeUnit.Milliseconds,
        ["us"] = TimeUnit.Microseconds,
        ["ns"] = TimeUnit.Nanoseconds,
        ["clock"] = TimeUnit.Clock,
    };

    private static readonly Dictionary<string, bool> s_marks = new(StringComparer.Ordinal) { ["point"] = false, ["comma"] = true };

    private static readonly Dictionary<string, NumberBase> s_bases = new(StringComparer.Ordinal) { ["hex"] = NumberBase.Hex, ["decimal"] = NumberBase.Decimal };

    private static readonly Dictionary<string, IdKindRule> s_kinds = new(StringComparer.Ordinal)
    {
        ["by value"] = IdKindRule.ByValue,
        ["by digits"] = IdKindRule.ByDigits,
        ["11 bit"] = IdKindRule.Standard,
        ["29 bit"] = IdKindRule.Extended,
    };

    // Of these there may be several.
    private static readonly ColumnRole[] s_repeated = [ColumnRole.Byte, ColumnRole.Kind, ColumnRole.Other];

    private static readonly ColumnRole[] s_data = [ColumnRole.Data, ColumnRole.Bytes, ColumnRole.Byte];

    /// <summary>The word that a layout has for a column's meaning.</summary>
    public static string WordOf(ColumnRole role) => s_roles.First(r => r.Value == role).Key;

    /// <summary>The word that a layout has for a separator; null when it is written as it is.</summary>
    public static string? WordOf(char separator) => s_separators.Where(s => s.Value == separator).Select(s => s.Key).FirstOrDefault();

    public static TableLayout? Bind(SourceText source, SyntaxNode root, DiagnosticBag diagnostics)
    {
        var reader = new MappingReader(root, diagnostics, "a layout");
        if (root is not MappingNode)
            return null;
        ModuleBinder.CheckVersion(reader, "locum", diagnostics);
        var name = Scalars.Text(reader.Required("layout", "name it: 'layout: workshop logger'"), diagnostics, "the layout's name");
        var layout = new TableLayout
        {
            Name = name ?? "",
            Path = source.Path,
            Separator = Separator(reader.Optional("separator"), diagnostics),
            Skip = (int)(Scalars.Integer(reader.Optional("skip"), diagnostics, "the number of lines to skip", 0, MostSkipped) ?? 0),
            Comment = Scalars.Text(reader.Optional("comment"), diagnostics, "how comments start") ?? "",
            Header = Scalars.Word(reader.Optional("header"), diagnostics, "answer", WordTables.YesNo),
            Columns = Columns(reader.Optional("columns"), diagnostics),
            ByName = reader.Optional("columns") is MappingNode,
            IdKind = Scalars.Word(reader.Optional("id kind"), diagnostics, "rule for the kind of identifier", s_kinds),
            Bus = Scalars.Text(reader.Optional("bus"), diagnostics, "the name of the bus") ?? "",
            ColumnsSpan = reader.SpanOf("columns").First(),
        };
        layout = Numbers(reader.Optional("numbers"), Time(reader.Optional("time"), layout, diagnostics), diagnostics);
        Check(layout, diagnostics);
        reader.Done();
        return layout;
    }

    private static char? Separator(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (Scalars.Text(node, diagnostics, "the separator") is not { } text)
            return null;
        if (s_separators.TryGetValue(text, out char known))
            return known;
        if (text.Length is 1 && text[0] is > ' ' and <= '~' && !char.IsAsciiLetterOrDigit(text[0]) && text[0] is not ('"' or '.' or '-' or '+'))
            return text[0];
        diagnostics.Add(Codes.UnknownWord, node!.Span, $"'{Printable.Short(text)}' cannot separate columns", $"use one of: {string.Join(", ", s_separators.Keys)}, or a single character in quotes");
        return null;
    }

    private static IReadOnlyList<LayoutColumn> Columns(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        switch (node)
        {
            case null:
                return [];
            case SequenceNode list:
                if (list.Items.Count > MostColumns)
                    diagnostics.Add(Codes.TooMany, list.Items[MostColumns].Span, $"a table has at most {MostColumns} columns", "leave out the last ones");
                return [.. list.Items.Take(MostColumns).Select(i => Scalars.Word(i, diagnostics, "meaning of a column", s_roles) is { } role ? new LayoutColumn(role, "", i.Span) : null).OfType<LayoutColumn>()];
            case MappingNode mapping:
                return [.. mapping.Entries.Take(MostColumns).SelectMany(e => Named(e, diagnostics))];
            default:
                diagnostics.Add(Codes.WrongShape, node.Span, $"columns are a list in the order of the file, or a mapping to the names in the header, this is {node.Kind}", "write 'columns: [time, id, length, data...]'");
                return [];
        }
    }

    private static IEnumerable<LayoutColumn> Named(MappingEntry entry, DiagnosticBag diagnostics)
    {
        if (Scalars.Word(entry.Key, diagnostics, "meaning of a column", s_roles) is not { } role)
            yield break;
        var names = StimulusBinder.Items(entry.Value);
        // Several columns of data bytes are what a list under 'data' can mean.
        if (role is ColumnRole.Data && entry.Value is SequenceNode)
            role = ColumnRole.Byte;
        foreach (var item in names)
        {
            if (Scalars.Text(item, diagnostics, "the name of a column") is { } name)
                yield return new LayoutColumn(role, name, item.Span);
        }
    }

    private static TableLayout Time(SyntaxNode? node, TableLayout layout, DiagnosticBag diagnostics)
    {
        if (node is null)
            return layout;
        var reader = new MappingReader(node, diagnostics, "the time of a layout");
        layout = layout with
        {
            Unit = Scalars.Word(reader.Optional("unit"), diagnostics, "unit of time", s_units),
            DecimalComma = Scalars.Word(reader.Optional("decimal"), diagnostics, "decimal mark", s_marks),
        };
        reader.Done();
        return layout;
    }

    private static TableLayout Numbers(SyntaxNode? node, TableLayout layout, DiagnosticBag diagnostics)
    {
        if (node is null)
            return layout;
        var reader = new MappingReader(node, diagnostics, "the numbers of a layout");
        layout = layout with
        {
            IdBase = Scalars.Word(reader.Optional("id"), diagnostics, "way of writing numbers", s_bases),
            LengthBase = Scalars.Word(reader.Optional("length"), diagnostics, "way of writing numbers", s_bases),
            DataBase = Scalars.Word(reader.Optional("data"), diagnostics, "way of writing numbers", s_bases),
        };
        reader.Done();
        return layout;
    }

    private static void Check(TableLayout layout, DiagnosticBag diagnostics)
    {
        if (layout.Columns.Count is 0)
            return;
        if (layout.ByName && layout.Header is false)
            diagnostics.Add(Codes.LayoutColumns, layout.ColumnsSpan, "columns are named although there is no header", "list the columns in their order, or say 'header: yes'");
        if (layout.Columns.All(c => c.Role is not ColumnRole.Id))
            diagnostics.Add(Codes.LayoutColumns, layout.ColumnsSpan, "no column holds the identifier", "name one of the columns 'id'");
        foreach (var group in layout.Columns.Where(c => !s_repeated.Contains(c.Role)).GroupBy(c => c.Role).Where(g => g.Count() > 1))
            diagnostics.Add(Codes.LayoutColumns, group.Last().Span, $"two columns hold '{WordOf(group.Key)}'", "call one of them 'other'", group.First().Span);
        var data = layout.Columns.Where(c => s_data.Contains(c.Role)).ToList();
        if (data.Select(c => c.Role).Distinct().Count() > 1)
            diagnostics.Add(Codes.LayoutColumns, data[^1].Span, "data stand in one column, or in a column for each byte, not in both", "keep one of 'data', 'data...' and 'byte'", data[0].Span);
        if (layout.Columns is [{ Role: ColumnRole.Fraction }, ..])
            diagnostics.Add(Codes.LayoutColumns, layout.Columns[0].Span, "a fraction follows the column with the rest of the time", "put 'time' in front of it");
    }
}
