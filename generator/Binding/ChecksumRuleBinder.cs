using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Wire;

namespace Locum.Binding;

internal static class ChecksumRuleBinder
{
    private static readonly Dictionary<string, Complement> s_complements = new(StringComparer.Ordinal)
    {
        ["none"] = Complement.None,
        ["ones"] = Complement.Ones,
        ["twos"] = Complement.Twos,
    };

    private static readonly Dictionary<string, bool> s_units = new(StringComparer.Ordinal) { ["bytes"] = false, ["nibbles"] = true };

    private static readonly Dictionary<string, ChecksumRule> s_named = new ChecksumRule[]
    {
        new SumRule("sum", false, 0, Complement.None),
        new SumRule("sum-ones", false, 0, Complement.Ones),
        new SumRule("sum-twos", false, 0, Complement.Twos),
        new SumRule("nibble-sum", true, 0, Complement.None),
        new SumRule("nibble-sum-ones", true, 0, Complement.Ones),
        new SumRule("nibble-sum-twos", true, 0, Complement.Twos),
        new XorRule("xor", false, 0, Complement.None),
        new XorRule("xor-ones", false, 0, Complement.Ones),
        new XorRule("nibble-xor", true, 0, Complement.None),
        new J1939Rule(),
    }.ToDictionary(r => r.Name, StringComparer.Ordinal);

    /// <summary>All rule names, catalogue included.</summary>
    public static IReadOnlyList<string> AllNames => [.. s_named.Keys, .. CrcCatalogue.Names];

    public static ChecksumRule? Bind(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        switch (node)
        {
            case null:
                return null;
            case ScalarNode scalar:
                return BindNamed(scalar, diagnostics);
            default:
                var reader = new MappingReader(node, diagnostics, "a checksum rule");
                if (node is not MappingNode)
                    return null;
                var rule = BindParameters(reader, diagnostics);
                reader.Done();
                return rule;
        }
    }

    private static ChecksumRule? BindNamed(ScalarNode scalar, DiagnosticBag diagnostics)
    {
        if (s_named.TryGetValue(scalar.Value, out var rule))
            return rule;
        if (CrcCatalogue.Find(scalar.Value) is { } crc)
            return new CrcRule(crc.Name, crc);
        var near = Nearest.To(scalar.Value, AllNames);
        diagnostics.Add(Codes.UnknownRule, scalar.Span, $"there is no checksum rule '{Printable.Short(scalar.Value)}'", near is null
            ? "use sum, xor, nibble-sum, a catalogue name such as crc8-sae-j1850, or a mapping of parameters" : $"did you mean '{near}'?");
        return null;
    }

    private static ChecksumRule? BindParameters(MappingReader reader, DiagnosticBag diagnostics)
    {
        if (reader.Has("crc"))
            return BindCrc(reader, diagnostics);
        foreach (var kind in new[] { "sum", "xor" }.Where(reader.Has))
        {
            var nibbles = Scalars.Word(reader.Optional(kind), diagnostics, "unit", s_units) ?? false;
            var start = (uint)(Scalars.Integer(reader.Optional("start"), diagnostics, "the start value", 0, 0xFFFF) ?? 0);
            var complement = Scalars.Word(reader.Optional("complement"), diagnostics, "complement", s_complements) ?? Complement.None;
            return kind is "sum" ? new SumRule("sum", nibbles, start, complement) : new XorRule("xor", nibbles, start, complement);
        }
        foreach (var key in new[] { "crc", "sum", "xor", "start", "complement", "poly", "init", "reflect in", "reflect out", "xor out" })
            reader.Optional(key);
        diagnostics.Add(Codes.UnknownRule, reader.Span, "the rule's parameters start with 'crc', 'sum', 'xor' or 'formula'", "write {crc: 8, poly: 0x1D, …}, {sum: bytes, …}, {xor: bytes, …} or {formula: …}");
        return null;
    }

    private static CrcRule? BindCrc(MappingReader reader, DiagnosticBag diagnostics)
    {
        var width = Scalars.Integer(reader.Optional("crc"), diagnostics, "the CRC's width", 3, 32);
        var most = width is null ? uint.MaxValue : (1L << (int)width) - 1;
        var poly = Scalars.Integer(reader.Required("poly", "give the polynomial without its highest term, such as 'poly: 0x1D'"), diagnostics, "the polynomial", 1, most);
        var init = Scalars.Integer(reader.Optional("init"), diagnostics, "the start value", 0, most) ?? 0;
        var reflectIn = Scalars.Word(reader.Optional("reflect in"), diagnostics, "answer", WordTables.YesNo) ?? false;
        var reflectOut = Scalars.Word(reader.Optional("reflect out"), diagnostics, "answer", WordTables.YesNo) ?? reflectIn;
        var xorOut = Scalars.Integer(reader.Optional("xor out"), diagnostics, "the final value", 0, most) ?? 0;
        if (width is null || poly is null)
            return null;
        var name = $"crc{width} poly 0x{poly:X}";
        return new CrcRule(name, new CrcParameters(name, (int)width, (ulong)poly, (ulong)init, reflectIn, reflectOut, (ulong)xorOut));
    }
}
