using Locum.Binding;

namespace Locum.Schema;

/// <summary>The keys of checksums: one line each, in the order in which they are written.</summary>
internal static class ChecksumSections
{
    private static readonly Shape s_width = new Words("bytes", "nibbles");

    private static readonly Key s_start = new("start", new Whole(0, 0xFFFF), "Value before the first byte.", "0") { Default = "0" };

    private static readonly Key s_complement = new("complement", new Words("none", "ones", "twos"), "What is done at the end: nothing, inverted, negated.", "twos") { Default = "none" };

    private static readonly Section s_crc = Rule("crc-rule", "A cyclic redundancy check by its parameters.",
        new("crc", new Whole(3, 32), "Width in bits.", "16") { Required = true },
        new("poly", new Whole(1, uint.MaxValue), "Polynomial without its highest term.", "0x1021") { Required = true },
        new("init", new Whole(0, uint.MaxValue), "Register before the first byte.", "0xFFFF") { Default = "0" },
        new("reflect in", Shapes.YesNo, "Bytes enter with the lowest bit first.", "yes") { Default = "no" },
        new("reflect out", Shapes.YesNo, "The register is mirrored at the end; as 'reflect in' by default.", "yes"),
        new("xor out", new Whole(0, uint.MaxValue), "XORed into the result.", "0xFFFF") { Default = "0" });

    private static readonly Section s_sum = Rule("sum-rule", "A sum of bytes or nibbles.",
        new("sum", s_width, "What is added.", "bytes") { Required = true }, s_start, s_complement);

    private static readonly Section s_xor = Rule("xor-rule", "Bytes or nibbles XORed.",
        new("xor", s_width, "What is XORed.", "bytes") { Required = true }, s_start, s_complement);

    private static readonly Section s_formula = Rule("formula-rule", "A formula, which names the bytes it reads.",
        new Key("formula", Shapes.Text, "Computes the value on 32-bit signed integers; see README.", "\"sum(0, 6) ^ 0x55\"") { Required = true });

    private static readonly Section s_secret = new()
    {
        Name = "secret",
        What = "a mixed-in byte",
        Description = "A byte chosen by a counter's value.",
        Keys =
        [
            new("secret", Shapes.Bytes, "One byte for each value of the counter.", "3A 91 0C 5E") { Required = true },
            new("by", Shapes.Text, "The counter field that chooses; needed when the frame has several.", "alive"),
        ],
    };

    private static readonly Shape s_extra = new Either(
        new Words("id low byte", "id high byte", "id byte 0", "id byte 1", "id byte 2", "id byte 3", "length"), new Whole(0, 255), new Mapping(s_secret));

    /// <summary>A byte, or the first and the last of several.</summary>
    private static readonly Shape s_range = new Patterned(@"^\s*-?(0[xX][0-9A-Fa-f]+|[0-9]+)\s*(\.\.\s*-?(0[xX][0-9A-Fa-f]+|[0-9]+)\s*)?$");

    /// <summary>A field's checksum.</summary>
    public static Section Checksum { get; } = new()
    {
        Name = "checksum",
        What = "a checksum",
        Description = "A checksum over the payload.",
        Keys =
        [
            new("rule", new Either(new Words([.. ChecksumRuleBinder.AllNames]), new Mapping(s_crc), new Mapping(s_sum), new Mapping(s_xor), new Mapping(s_formula)), "A name, or a mapping of parameters.", "crc8-sae-j1850") { Required = true },
            new("over", Shapes.OneOrMany(s_range), "Payload bytes in the order in which they are read; all outside the field by default.", "0..6"),
            new("before", Shapes.OneOrMany(s_extra), "Bytes read before the payload.", "[id low byte]"),
            new("with", Shapes.OneOrMany(s_extra), "Bytes read after the payload.", "[0x3B, length]"),
            new("own bits", new Words("zero"), "The field's own bits count as 0 where the range covers them.", "zero"),
        ],
    };

    private static Section Rule(string name, string description, params IReadOnlyList<Key> keys) =>
        new() { Name = name, What = "a checksum rule", Description = description, Keys = keys };
}
