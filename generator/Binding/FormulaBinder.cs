using Locum.Diagnostics;
using Locum.Formulas;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Formulas of fields and of checksums.</summary>
internal static class FormulaBinder
{
    private static readonly string[] s_ranges = ["over", "before", "with", "own bits"];

    /// <summary>The formula of a field, or null when it has none or it is unusable.</summary>
    /// <param name="index">The field among those being bound.</param>
    public static FormulaValue? Bind(MappingReader reader, IReadOnlyList<Field> fields, IReadOnlyList<FieldStage> stages, int index, FormulaContext context, Bound bound)
    {
        if (reader.Optional("formula") is not { } node || stages[index] is not FieldStage.Formula)
            return null;
        var field = fields[index];
        if (Parse(node, field, new FormulaScope(context, fields, stages, index, bound), bound.Diagnostics) is not { } formula)
            return null;
        var listens = formula.Symbols.FirstOrDefault(s => s.Origin is FormulaOrigin.Received);
        if (listens is null)
        {
            if (reader.Optional("lost") is not null)
                bound.Diagnostics.Add(Codes.FormulaKey, reader.SpanOf("lost"), $"{(formula.Root.Range.Only is { } only ? $"the formula is always {only}" : "no received field has an effect on the formula")}, so nothing can be lost", "remove the line");
            return new FormulaValue(formula, null);
        }
        switch (reader.Optional("lost"))
        {
            case null:
                bound.Diagnostics.Add(Codes.MissingKey, reader.SpanOf("formula"), $"'{field.Name}' reads '{listens.Name}' and needs a value for when that frame is lost", "add 'lost: <value>'");
                return null;
            case ScalarNode scalar:
                return FieldValues.RawSigned(scalar, field, bound.Diagnostics) is { } lost ? new FormulaValue(formula, FieldValues.Mask(lost, field)) : null;
            case var other:
                Scalars.Text(other, bound.Diagnostics, "the value when lost");
                return null;
        }
    }

    /// <summary>A checksum whose rule is a formula.</summary>
    public static Checksum? BindRule(MappingReader checksum, MappingNode rule, Field field, IFormulaScope scope, DiagnosticBag diagnostics)
    {
        foreach (var key in s_ranges.Where(k => checksum.Optional(k) is not null))
            diagnostics.Add(Codes.FormulaKey, checksum.SpanOf(key), $"'{key}' has no effect: the formula names the bytes it reads, its own bits being 0", "remove the line");
        checksum.Done();
        var reader = new MappingReader(rule, diagnostics, "a checksum rule");
        var node = reader.Optional("formula")!;
        reader.Done();
        return Parse(node, field, scope, diagnostics) is { } formula ? new Checksum(new FormulaRule(formula), formula.Bytes, [], [], true, node.Span) : null;
    }

    private static Formula? Parse(SyntaxNode node, Field field, IFormulaScope scope, DiagnosticBag diagnostics) =>
        Scalars.Text(node, diagnostics, "a formula") is { } text ? FormulaParser.Parse(new FormulaText(text, node.Span), scope, field.Bits, field.Signed, diagnostics) : null;
}
