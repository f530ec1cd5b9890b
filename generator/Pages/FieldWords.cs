using Locum.Model;
using Locum.Reviewing;

namespace Locum.Pages;

/// <summary>Fields in words.</summary>
internal static class FieldWords
{
    /// <summary>Kinds of fields with what the page's key says of them.</summary>
    public static IReadOnlyList<Pair> Kinds { get; } =
    [
        new("value", "value, steady or by mode"),
        new("follow", "follows another node's frame"),
        new("moving", "moves by itself, or a formula"),
        new("counter", "counter"),
        new("checksum", "checksum"),
        new("base", "base bits, always the same"),
    ];

    /// <summary>One of the words of <see cref="Kinds"/>.</summary>
    public static string Kind(FieldSource? source) => source switch
    {
        null => "base",
        FixedValue or ModeValue => "value",
        FollowValue or LiveValue { Live: Lag } => "follow",
        CounterValue => "counter",
        ChecksumValue => "checksum",
        _ => "moving",
    };

    /// <summary>Where the value comes from, in the words of reviews.</summary>
    public static string Source(Field field, Frame frame, Scope scope) => SourceFacts.Of(field, frame, scope)[0].Shown ?? "";

    /// <summary>"byte 2 bit 0, 12 bits, big-endian".</summary>
    public static string Place(Field field)
    {
        var order = field.BigEndian && field.Positions().Select(p => p / 8).Distinct().Count() > 1 ? ", big-endian" : "";
        return $"byte {field.Bit / 8} bit {field.Bit % 8}, {field.Bits} bit{(field.Bits is 1 ? "" : "s")}{order}{(field.Signed ? ", signed" : "")}";
    }

    /// <summary>Scale, offset and unit where they are not the usual ones, and names of values.</summary>
    public static string Meaning(Field field)
    {
        var parts = new List<string>();
        if (field.Scale is not 1 || field.Offset is not 0)
            parts.Add($"raw × {Say.Number(field.Scale)}{(field.Offset is 0 ? "" : field.Offset > 0 ? $" + {Say.Number(field.Offset)}" : $" − {Say.Number(-field.Offset)}")}{(field.Unit is null ? "" : $" {field.Unit}")}");
        else if (field.Unit is not null)
            parts.Add(field.Unit);
        parts.AddRange(field.Names.OrderBy(n => n.Value).ThenBy(n => n.Key, StringComparer.Ordinal).Select(n => $"{n.Value} = {n.Key}"));
        return string.Join(", ", parts);
    }
}
