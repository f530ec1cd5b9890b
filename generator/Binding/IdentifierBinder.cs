using System.Globalization;
using System.Text;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Data identifiers of a channel and their bytes.</summary>
internal static class IdentifierBinder
{
    public const int Most = 32;
    public const int MostBytes = 128;

    /// <summary>All identifiers of a channel together, so that an answer has room for each once.</summary>
    public const int MostTogether = 512;

    public static IReadOnlyList<Identifier> Bind(MappingReader channel, DiagnosticBag diagnostics)
    {
        var entries = channel.Named("identifiers", "data identifiers");
        if (entries.Count > Most)
            diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a channel has at most {Most} data identifiers", "leave identifiers out");
        var identifiers = new List<Identifier>();
        foreach (var entry in entries.Take(Most))
        {
            if (BindOne(entry, diagnostics) is not { } identifier)
                continue;
            if (identifiers.Any(i => i.Number == identifier.Number))
                diagnostics.Add(Codes.IdentifierTwice, entry.Key.Span, $"the data identifier 0x{identifier.Number:X4} is described already", "keep one of them");
            else
                identifiers.Add(identifier);
        }
        if (identifiers.Sum(i => 2 + i.Bytes.Length) > MostTogether)
            diagnostics.Add(Codes.TooMany, channel.SpanOf("identifiers"), $"the data identifiers of a channel have at most {MostTogether} bytes together, two for each number", "shorten texts, or leave identifiers out");
        return identifiers;
    }

    private static Identifier? BindOne(MappingEntry entry, DiagnosticBag diagnostics)
    {
        var number = Scalars.Integer(entry.Key, diagnostics, "a data identifier", 0, ushort.MaxValue);
        var reader = new MappingReader(entry.Value, diagnostics, "a data identifier");
        if (entry.Value is not MappingNode)
            return null;
        var text = reader.Optional("text");
        var after = Scalars.TimeUs(reader.Optional("after"), diagnostics, "the time to read", 0, ChannelBinder.LongestAnswerUs) ?? 0;
        var bytes = text is null ? Scalars.Bytes(reader.Required("bytes", "give a 'text' or 'bytes'"), diagnostics, "the bytes") : Ascii(text, diagnostics);
        reader.Done();
        if (bytes is { Length: 0 or > MostBytes })
        {
            diagnostics.Add(Codes.OutOfRange, (text ?? reader.Optional("bytes"))!.Span, $"a data identifier has 1 to {MostBytes} bytes, this one {bytes.Length.ToString(CultureInfo.InvariantCulture)}", "shorten or fill it");
            return null;
        }
        return number is null || bytes is null ? null : new Identifier((ushort)number.Value, bytes, after);
    }

    internal static byte[]? Ascii(SyntaxNode node, DiagnosticBag diagnostics)
    {
        if (Scalars.Text(node, diagnostics, "the text") is not { } text)
            return null;
        if (text.All(c => c is >= ' ' and <= '~'))
            return Encoding.ASCII.GetBytes(text);
        diagnostics.Add(Codes.NotAscii, node.Span, $"'{Printable.Short(text)}' has characters that are not ASCII", "write them as 'bytes'");
        return null;
    }
}
