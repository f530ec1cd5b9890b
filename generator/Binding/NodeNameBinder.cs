using Locum.Diagnostics;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>The NAME of a node, 64 bits: its parts from the lowest bit on (J1939-81, from memory), or its bytes as sent.</summary>
internal static class NodeNameBinder
{
    private const int Bytes = 8;

    // Bit 48 between the function and the vehicle system is reserved, and 0.
    private static readonly (string Key, int Bit, int Bits)[] s_parts =
    [
        ("identity", 0, 21), ("manufacturer", 21, 11), ("ecu instance", 32, 3), ("function instance", 35, 5), ("function", 40, 8),
        ("vehicle system", 49, 7), ("vehicle system instance", 56, 4), ("industry group", 60, 3),
    ];

    public static ulong Bind(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (node is not MappingNode)
            return FromBytes(node, diagnostics);
        var reader = new MappingReader(node, diagnostics, "a NAME");
        var value = 0UL;
        foreach (var (key, bit, bits) in s_parts)
            value |= (ulong)(Scalars.Integer(reader.Optional(key), diagnostics, $"the part '{key}'", 0, (1L << bits) - 1) ?? 0) << bit;
        if (Scalars.Word(reader.Optional("arbitrary address"), diagnostics, "answer", WordTables.YesNo) is true)
            value |= 1UL << 63;
        reader.Done();
        return value;
    }

    private static ulong FromBytes(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (Scalars.Bytes(node, diagnostics, "the NAME") is not { } bytes)
            return 0;
        if (bytes.Length is not Bytes)
        {
            diagnostics.Add(Codes.NameBytes, node!.Span, $"a NAME has {Bytes} bytes, this one {bytes.Length}", "write the bytes of the module's Address Claimed, or the NAME's parts");
            return 0;
        }
        return bytes.Reverse().Aggregate(0UL, (value, b) => value << 8 | b);
    }
}
