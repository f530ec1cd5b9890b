using System.Globalization;
using System.Numerics;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Locum.Syntax;

namespace Locum.Schema;

/// <summary>YAML → JSON as an editor sees it: plain scalars by the core schema (YAML 1.2.2, 10.3.2), quoted ones as strings.</summary>
public static partial class CoreSchema
{
    /// <summary>The JSON value of a node; null stands for JSON null.</summary>
    public static JsonNode? ToJson(SyntaxNode node) => node switch
    {
        MappingNode mapping => new JsonObject(mapping.Entries.Select(e => KeyValuePair.Create(e.Key.Value, ToJson(e.Value)))),
        SequenceNode sequence => new JsonArray([.. sequence.Items.Select(ToJson)]),
        ScalarNode { Quoted: true } quoted => JsonValue.Create(quoted.Value),
        ScalarNode plain => Plain(plain.Value),
        _ => throw new ArgumentOutOfRangeException(nameof(node)),
    };

    /// <summary>The value of a plain scalar.</summary>
    public static JsonValue? Plain(string text)
    {
        if (text is "" or "~" or "null" or "Null" or "NULL")
            return null;
        if (text is "true" or "True" or "TRUE")
            return JsonValue.Create(true);
        if (text is "false" or "False" or "FALSE")
            return JsonValue.Create(false);
        if (Hexadecimal().IsMatch(text))
            return Number(BigInteger.Parse($"0{text[2..]}", NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture));
        if (Integer().IsMatch(text))
            return Number(BigInteger.Parse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture));
        if (Octal().IsMatch(text))
            return Number(text[2..].Aggregate(BigInteger.Zero, (sum, digit) => (sum * 8) + (digit - '0')).ToString(CultureInfo.InvariantCulture));
        if (Float().IsMatch(text) && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value))
            return JsonValue.Create(value);
        return JsonValue.Create(text);
    }

    /// <summary>True when the plain text is a string to every reader of YAML.</summary>
    public static bool IsString(string text) => Plain(text)?.GetValueKind() is System.Text.Json.JsonValueKind.String;

    // Numbers of any length: JSON has no limit.
    private static JsonValue Number(string digits) => JsonNode.Parse(digits)!.AsValue();

    [GeneratedRegex("^0x[0-9A-Fa-f]+$")]
    private static partial Regex Hexadecimal();

    [GeneratedRegex("^[-+]?[0-9]+$")]
    private static partial Regex Integer();

    [GeneratedRegex("^0o[0-7]+$")]
    private static partial Regex Octal();

    [GeneratedRegex(@"^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$")]
    private static partial Regex Float();
}
