using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Bytes that a checksum reads besides the payload.</summary>
internal static class ExtraByteBinder
{
    private static readonly Dictionary<string, ExtraByte> s_words = new(StringComparer.Ordinal)
    {
        ["id low byte"] = new IdentifierByte(0),
        ["id high byte"] = new IdentifierByte(1),
        ["id byte 0"] = new IdentifierByte(0),
        ["id byte 1"] = new IdentifierByte(1),
        ["id byte 2"] = new IdentifierByte(2),
        ["id byte 3"] = new IdentifierByte(3),
        ["length"] = new LengthByte(),
    };

    public static IReadOnlyList<ExtraByte> Bind(MappingReader checksum, string key, IReadOnlyList<Field> fields, Bound bound)
    {
        return checksum.Optional(key) switch
        {
            null => [],
            SequenceNode list => [.. list.Items.Select(i => BindOne(i, fields, bound)).OfType<ExtraByte>()],
            var one => BindOne(one, fields, bound) is { } extra ? [extra] : [],
        };
    }

    private static ExtraByte? BindOne(SyntaxNode node, IReadOnlyList<Field> fields, Bound bound)
    {
        if (node is ScalarNode scalar)
        {
            if (s_words.TryGetValue(scalar.Value, out var word))
                return word;
            if (Quantity.Integer(scalar.Value) is >= 0 and <= 255 and var value)
                return new LiteralByte((byte)value);
            bound.Diagnostics.Add(Codes.UnknownWord, node.Span, $"'{Printable.Short(scalar.Value)}' is not a byte that can be mixed in", Nearest.To(scalar.Value, s_words.Keys) is { } near
                ? $"did you mean '{near}'?" : "use a number from 0 to 255, 'id low byte', 'id high byte', 'id byte 2', 'id byte 3', 'length' or {secret: […]}");
            return null;
        }
        var reader = new MappingReader(node, bound.Diagnostics, "a mixed-in byte");
        if (node is not MappingNode)
            return null;
        var table = Scalars.Bytes(reader.Required("secret", "list one byte for every counter value"), bound.Diagnostics, "the secret");
        var counter = FindCounter(reader, fields, bound);
        reader.Done();
        if (table is null || counter < 0)
            return null;
        var own = bound.Counters[counter];
        var needed = (long)own.Highest - Math.Min(own.From, own.To) + 1;
        if (table.Length < needed)
        {
            bound.Diagnostics.Add(Codes.SecretLength, reader.ValueSpan("secret"), $"the list has {table.Length} bytes, the counter takes values up to {own.Highest}", $"give {needed} bytes, one for each value from {Math.Min(own.From, own.To)} on");
            return null;
        }
        return new SecretByte(counter, Math.Min(own.From, own.To), table);
    }

    private static int FindCounter(MappingReader reader, IReadOnlyList<Field> fields, Bound bound)
    {
        var counters = fields.Where(f => f.Source is CounterValue).ToList();
        if (reader.Optional("by") is not { } by)
        {
            if (counters.Count is 1)
                return ((CounterValue)counters[0].Source!).Counter;
            bound.Diagnostics.Add(Codes.MissingKey, reader.Span, $"the frame has {counters.Count} counters, so the secret needs 'by'", "name the counter field: 'by: alive'");
            return -1;
        }
        if (Scalars.Text(by, bound.Diagnostics, "the counter field") is not { } name)
            return -1;
        var index = bound.Find([.. counters.Select(f => f.Name)], name, by.Span, Codes.UnknownCounter, "counter field");
        return index < 0 ? -1 : ((CounterValue)counters[index].Source!).Counter;
    }
}
