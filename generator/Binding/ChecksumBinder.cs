using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

internal static class ChecksumBinder
{
    /// <summary>The checksum of a field, or null when it has none or it is unusable.</summary>
    public static Checksum? Bind(MappingReader fieldReader, IReadOnlyList<Field> fields, IReadOnlyList<FieldStage> stages, int index, FormulaContext context, Bound bound)
    {
        if (fieldReader.Optional("checksum") is not { } node)
            return null;
        var reader = new MappingReader(node, bound.Diagnostics, "a checksum");
        if (node is not MappingNode)
            return null;
        var field = fields[index];
        var ruleNode = reader.Required("rule", "name the rule, such as 'rule: crc8-sae-j1850' or 'rule: sum'");
        if (ruleNode is MappingNode mapping && mapping.Entries.Any(e => e.Key.Value is "formula"))
            return FormulaBinder.BindRule(reader, mapping, field, new FormulaScope(context, fields, stages, index, bound), bound.Diagnostics);
        var rule = ChecksumRuleBinder.Bind(ruleNode, bound.Diagnostics);
        var own = field.Positions().Select(p => p / 8).ToHashSet();
        var message = rule is J1939Rule; // covers the whole message, its own bits being 0
        var over = BindOver(reader, context.Length, bound.Diagnostics) ?? [.. Enumerable.Range(0, context.Length).Where(b => message || !own.Contains(b))];
        IReadOnlyList<Field> all = [.. context.Before, .. fields];
        var before = ExtraByteBinder.Bind(reader, "before", all, bound);
        var with = message && !reader.Has("with") ? [.. Enumerable.Range(0, 4).Select(n => new IdentifierByte(n))] : ExtraByteBinder.Bind(reader, "with", all, bound);
        var ownZero = reader.Optional("own bits") is { } ownNode
            && Scalars.Word(ownNode, bound.Diagnostics, "way to read the own bits", new Dictionary<string, bool> { ["zero"] = true }) is true;
        reader.Optional("with");
        reader.Done();
        return rule is null ? null : new Checksum(rule, over, before, with, ownZero || message, node.Span);
    }

    private static List<int>? BindOver(MappingReader reader, int length, DiagnosticBag diagnostics)
    {
        var node = reader.Optional("over");
        if (node is null)
            return null;
        var bytes = new List<int>();
        foreach (var item in node is SequenceNode list ? list.Items : [node])
        {
            if (Scalars.Text(item, diagnostics, "a byte range") is not { } text)
                continue;
            var ends = text.Split("..").Select(p => Quantity.Integer(p.Trim())).ToArray();
            if (ends.Length > 2 || ends.Contains(null) || ends[0] > ends[^1])
            {
                diagnostics.Add(Codes.WrongShape, item.Span, $"'{Printable.Short(text)}' is not a range of bytes", "write 'over: 0..6', or a list such as '[0..2, 4]'");
                continue;
            }
            if (ends[0] < 0 || ends[^1] >= length)
            {
                diagnostics.Add(Codes.ChecksumRange, item.Span, $"the range reaches beyond the frame's {length} bytes", $"use bytes 0 to {length - 1}");
                continue;
            }
            for (var b = (int)ends[0]!.Value; b <= ends[^1]!.Value; b++)
                bytes.Add(b);
        }
        return bytes;
    }
}
