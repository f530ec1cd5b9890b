using System.Globalization;
using Locum.Diagnostics;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Reads single values out of syntax nodes; every method reports what it cannot read and returns null.</summary>
public static class Scalars
{
    public static string? Text(SyntaxNode? node, DiagnosticBag diagnostics, string what)
    {
        if (node is null or ScalarNode)
            return (node as ScalarNode)?.Value;
        diagnostics.Add(Codes.WrongShape, node.Span, $"{what} is a single value, this is {node.Kind}", "write one value behind the colon");
        return null;
    }

    /// <summary>A whole number within limits.</summary>
    public static long? Integer(SyntaxNode? node, DiagnosticBag diagnostics, string what, long min, long max)
    {
        if (Text(node, diagnostics, what) is not { } text)
            return null;
        if (Quantity.Integer(text) is not { } value)
        {
            diagnostics.Add(Codes.NotANumber, node!.Span, $"{what} is a whole number, '{Printable.Short(text)}' is not", $"write a number from {min} to {max}, hexadecimal with 0x");
            return null;
        }
        return InRange(value, node!, diagnostics, what, min, max);
    }

    public static decimal? Number(SyntaxNode? node, DiagnosticBag diagnostics, string what)
    {
        if (Text(node, diagnostics, what) is not { } text)
            return null;
        if (Quantity.Number(text) is { } value)
            return value;
        var mend = text.Contains(',', StringComparison.Ordinal) ? "write the decimal point as '.'" : "write a decimal number";
        diagnostics.Add(Codes.NotANumber, node!.Span, $"{what} is a number, '{Printable.Short(text)}' is not", mend);
        return null;
    }

    /// <summary>A time in µs within limits.</summary>
    public static long? TimeUs(SyntaxNode? node, DiagnosticBag diagnostics, string what, long min, long max) =>
        WithUnit(node, diagnostics, what, Quantity.TimeUs, "20 ms, 1.5 s, 250 us or 10 min, a whole number of microseconds") is { } value
            ? InRange(value, node!, diagnostics, what, min, max, " µs") : null;

    /// <summary>A quantity with its unit.</summary>
    public static T? WithUnit<T>(SyntaxNode? node, DiagnosticBag diagnostics, string what, Func<string, T?> parse, string example)
        where T : struct
    {
        if (Text(node, diagnostics, what) is not { } text)
            return null;
        if (parse(text) is { } value)
            return value;
        var mend = text.Contains(',', StringComparison.Ordinal) ? "write the decimal point as '.'" : $"write it like {example}";
        diagnostics.Add(Codes.BadUnit, node!.Span, $"'{Printable.Short(text)}' is not usable as {what}", mend);
        return null;
    }

    /// <summary>One word of a fixed set.</summary>
    public static T? Word<T>(SyntaxNode? node, DiagnosticBag diagnostics, string what, IReadOnlyDictionary<string, T> words, Code? code = null)
        where T : struct
    {
        if (Text(node, diagnostics, what) is not { } text)
            return null;
        if (words.TryGetValue(text, out var value))
            return value;
        diagnostics.Add(code ?? Codes.UnknownWord, node!.Span, $"'{Printable.Short(text)}' is not a known {what}", Nearest.Mend(text, [.. words.Keys], what));
        return null;
    }

    /// <summary>A name that can become a C identifier.</summary>
    public static string? Name(ScalarNode node, DiagnosticBag diagnostics, string what)
    {
        if (Names.IsUsable(node.Value))
            return node.Value;
        diagnostics.Add(Codes.BadName, node.Span, $"'{Printable.Short(node.Value)}' cannot be the name of {what}", node.Value.Length > Names.MaxLength ? $"shorten it to {Names.MaxLength} characters" : "use letters, digits, '-', '_' and '.', starting with a letter");
        return null;
    }

    /// <summary>Bytes as "00 1F A0", or as a list of numbers.</summary>
    public static byte[]? Bytes(SyntaxNode? node, DiagnosticBag diagnostics, string what)
    {
        switch (node)
        {
            case null:
                return null;
            case SequenceNode list:
                var items = list.Items.Select(i => Integer(i, diagnostics, "a byte", 0, 255)).ToList();
                return items.Contains(null) ? null : [.. items.Select(i => (byte)i!.Value)];
            case ScalarNode scalar:
                var bytes = new List<byte>();
                foreach (var part in scalar.Value.Split(' ', StringSplitOptions.RemoveEmptyEntries))
                {
                    if (part.Length is 2 && byte.TryParse(part, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var value))
                    {
                        bytes.Add(value);
                        continue;
                    }
                    diagnostics.Add(Codes.BadBytes, node.Span, $"{what} is a row of bytes, '{Printable.Short(part)}' is not a byte", "write two hexadecimal digits for each byte: 00 1F A0");
                    return null;
                }
                return [.. bytes];
            default:
                diagnostics.Add(Codes.WrongShape, node.Span, $"{what} is a row of bytes, this is {node.Kind}", "write two hexadecimal digits for each byte: 00 1F A0");
                return null;
        }
    }

    private static long? InRange(long value, SyntaxNode node, DiagnosticBag diagnostics, string what, long min, long max, string unit = "")
    {
        if (value >= min && value <= max)
            return value;
        diagnostics.Add(Codes.OutOfRange, node.Span, $"{what} of {value}{unit} lies outside {min} to {max}{unit}", $"choose a value from {min} to {max}{unit}");
        return null;
    }
}
