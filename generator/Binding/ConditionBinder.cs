using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Conditions: "INPUT: active", "FRAME: lost", "FRAME.FIELD: value" or "FRAME.FIELD: {at least: value}".</summary>
internal static class ConditionBinder
{
    private static readonly Dictionary<string, bool> s_presence = new(StringComparer.Ordinal) { ["received"] = true, ["lost"] = false };

    private static readonly (string Key, Comparison Comparison)[] s_comparisons =
        [("at least", Comparison.AtLeast), ("below", Comparison.Below), ("not", Comparison.NotEqual)];

    /// <summary>The conditions of a mapping, all of which must hold; <paramref name="except"/> is a key with another meaning.</summary>
    public static IReadOnlyList<Condition> BindAll(SyntaxNode node, MappingReader reader, Bound bound, string except = "")
    {
        if (node is not MappingNode mapping)
            return [];
        var own = mapping.Entries.Where(e => e.Key.Value != except).ToList();
        if (own.Count is 0)
            bound.Diagnostics.Add(Codes.MissingKey, node.Span, "a condition needs an input or a received frame", "write '<input>: active', '<frame>: lost' or '<frame>.<field>: <value>'");
        foreach (var (key, _) in own)
            reader.Optional(key.Value);
        return [.. own.Select(e => Bind(e.Key, e.Value, bound)).OfType<Condition>()];
    }

    private static Condition? Bind(ScalarNode key, SyntaxNode value, Bound bound)
    {
        var input = bound.Inputs.FindIndex(i => i.Name == key.Value);
        if (input >= 0)
            return Scalars.Word(value, bound.Diagnostics, "state of an input", WordTables.States) is { } active ? new InputCondition(input, active) : null;
        var received = bound.Receives.FindIndex(r => r.Name == key.Value);
        if (received >= 0)
            return Scalars.Word(value, bound.Diagnostics, "state of a received frame", s_presence) is { } there ? new ReceivedCondition(received, there) : null;
        if (ReceivedFields.Find(key.Value, bound) is var (frame, field))
            return BindField(frame, field, value, bound);
        var known = bound.Inputs.Select(i => i.Name).Concat(bound.Receives.Select(r => r.Name)).Concat(ReceivedFields.Names(bound)).ToList();
        bound.Diagnostics.Add(Codes.UnknownInput, key.Span, $"there is no input, received frame or received field '{Printable.Short(key.Value)}'", Nearest.Mend(key.Value, known, "input or received frame"));
        return null;
    }

    private static FieldCondition? BindField(int frame, int index, SyntaxNode value, Bound bound)
    {
        var field = bound.Receives[frame].Fields[index];
        if (field.Bits > FollowBinder.MostBits)
        {
            bound.Diagnostics.Add(Codes.OutOfRange, value.Span, $"fields of more than {FollowBinder.MostBits} bits cannot be compared", "compare the part that matters with a narrower field");
            return null;
        }
        if (value is ScalarNode equal)
            return FieldValues.RawSigned(equal, field, bound.Diagnostics) is { } raw ? new FieldCondition(frame, index, Comparison.Equal, raw) : null;
        var reader = new MappingReader(value, bound.Diagnostics, "a comparison");
        FieldCondition? condition = null;
        foreach (var (key, comparison) in s_comparisons)
            if (reader.Optional(key) is ScalarNode scalar && condition is null && FieldValues.RawSigned(scalar, field, bound.Diagnostics) is { } raw)
                condition = Compare(frame, index, comparison, raw, field);
        if (s_comparisons.Count(c => reader.Has(c.Key)) is not 1 && value is MappingNode)
            bound.Diagnostics.Add(Codes.MissingKey, value.Span, "a comparison has one of 'at least', 'below' and 'not'", "write {at least: 5}; use two conditions for a range");
        reader.Done();
        return condition;
    }

    // Comparisons are physical; with a negative scale more is less in raw values.
    private static FieldCondition Compare(int frame, int index, Comparison comparison, long raw, Field field) => comparison switch
    {
        Comparison.AtLeast when field.Scale < 0 => new FieldCondition(frame, index, Comparison.Below, raw + 1),
        Comparison.Below when field.Scale < 0 => new FieldCondition(frame, index, Comparison.AtLeast, raw + 1),
        _ => new FieldCondition(frame, index, comparison, raw),
    };
}
