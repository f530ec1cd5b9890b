using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Locum.Binding;
using Locum.Diagnostics;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Schema;

/// <summary>The language as a JSON Schema (draft 2020-12; readers of draft-07 know all of it but dependentRequired, which they pass over).</summary>
public static class SchemaDocument
{
    // A superset of the rule for names: every character outside ASCII passes.
    private const string NamePattern = @"^[A-Za-z\u0080-\uFFFF]([A-Za-z0-9 ._\u0080-\uFFFF-]*[A-Za-z0-9._\u0080-\uFFFF-])?$";

    private const string FolderPattern = @"^[A-Za-z\u0080-\uFFFF][A-Za-z0-9._\u0080-\uFFFF-]*$";

    private const string WholePattern = "^-?(0[xX][0-9A-Fa-f]+|[0-9]+)$";

    private static readonly JsonSerializerOptions s_style = new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The schema as text, with a line break at the end.</summary>
    public static string Text() => Build().ToJsonString(s_style) + "\n";

    private static JsonObject Build()
    {
        var definitions = new JsonObject();
        foreach (var section in Language.Sections)
            definitions[section.Name] = OfSection(section);
        JsonNode root = Reference(Language.Files[^1].Root);
        foreach (var (key, section) in Language.Files.Reverse().Skip(1))
            root = new JsonObject { ["if"] = new JsonObject { ["required"] = new JsonArray(key) }, ["then"] = Reference(section), ["else"] = root };
        var document = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["title"] = "Locum description, project, stimulus or layout",
            ["type"] = "object",
        };
        foreach (var (key, value) in root.AsObject().ToList())
            document[key] = value!.DeepClone();
        document["$defs"] = definitions;
        return document;
    }

    private static JsonObject OfSection(Section section)
    {
        var schema = new JsonObject { ["description"] = section.Description, ["type"] = "object" };
        var properties = new JsonObject();
        foreach (var key in section.Keys)
            properties[key.Name] = OfKey(key);
        schema["properties"] = properties;
        var required = section.Keys.Where(k => k.Required).Select(k => (JsonNode)k.Name).ToArray();
        if (required.Length > 0)
            schema["required"] = new JsonArray(required);
        var either = section.Keys.FirstOrDefault(k => k.RequiredUnless is not null);
        if (either is not null)
            schema["anyOf"] = new JsonArray(RequiredOne(either.Name), RequiredOne(either.RequiredUnless!));
        if (section.OneOf.Count > 0)
            schema["oneOf"] = new JsonArray([.. section.OneOf.Select(RequiredOne)]);
        var needs = section.Keys.Where(k => k.Needs is not null).Select(k => KeyValuePair.Create<string, JsonNode?>(k.Name, new JsonArray(k.Needs))).ToList();
        if (needs.Count > 0)
            schema["dependentRequired"] = new JsonObject(needs);
        schema["additionalProperties"] = section.Open is { } open ? Of(open) : false;
        return schema;
    }

    private static JsonObject RequiredOne(string key) => new() { ["required"] = new JsonArray(key) };

    private static JsonObject OfKey(Key key)
    {
        var schema = new JsonObject { ["description"] = key.Description };
        foreach (var (name, value) in Of(key.Shape).ToList())
            schema[name] = value?.DeepClone();
        if (key.Default is { } usual)
            schema["default"] = CoreSchema.Plain(usual);
        schema["examples"] = new JsonArray(Example(key));
        return schema;
    }

    private static JsonObject Of(Shape shape) => shape switch
    {
        Nothing => new JsonObject { ["type"] = "null" },
        AnyText or PhysicalValue => new JsonObject { ["type"] = Types("string", "number", "boolean", "null") },
        NameText => new JsonObject { ["type"] = Types("string", "boolean", "null"), ["pattern"] = NamePattern, ["maxLength"] = Binding.Names.MaxLength },
        Words words => new JsonObject { ["enum"] = new JsonArray([.. words.List.SelectMany(Spellings)]) },
        Whole whole => OfWhole(whole),
        Numeric => new JsonObject { ["type"] = Types("number", "string"), ["pattern"] = @"^[+-]?(0[xX][0-9A-Fa-f]+|[0-9]+\.?[0-9]*([eE][+-]?[0-9]+)?|\.[0-9]+([eE][+-]?[0-9]+)?)$" },
        Amount amount => new JsonObject { ["type"] = "string", ["pattern"] = $@"^{(amount.Signed ? "-?" : "")}([0-9]+\.?[0-9]*|\.[0-9]+)\s*({string.Join('|', amount.Units)})\s*$" },
        Patterned pattern => new JsonObject { ["type"] = Types("string", "integer"), ["pattern"] = pattern.Expression, ["minimum"] = 0 },
        ByteRow => OfBytes(),
        ListOf list => OfList(list),
        MapOf map => OfMap(map),
        Mapping mapping => Reference(mapping.Section),
        Either either => new JsonObject { ["anyOf"] = new JsonArray([.. either.Shapes.Select(Of)]) },
        _ => throw new ArgumentOutOfRangeException(nameof(shape)),
    };

    private static JsonObject OfWhole(Whole whole)
    {
        // Readers disagree about numbers beyond 2^53; the widest range is left open.
        var schema = new JsonObject { ["type"] = Types("integer", "string"), ["pattern"] = WholePattern };
        if (whole.Min > long.MinValue)
            schema["minimum"] = whole.Min;
        if (whole.Max < long.MaxValue)
            schema["maximum"] = whole.Max;
        return schema;
    }

    // A single byte such as 07 is a number to an editor.
    private static JsonObject OfBytes() => new()
    {
        ["anyOf"] = new JsonArray(
            new JsonObject { ["type"] = Types("string", "integer", "null"), ["pattern"] = "^ *([0-9A-Fa-f]{2} +)*([0-9A-Fa-f]{2})? *$", ["minimum"] = 0, ["maximum"] = 99 },
            new JsonObject { ["type"] = "array", ["items"] = OfWhole(new Whole(0, 255)) }),
    };

    private static JsonObject OfList(ListOf list)
    {
        var schema = new JsonObject { ["type"] = "array", ["items"] = Of(list.Item) };
        if (list.Least > 0)
            schema["minItems"] = list.Least;
        if (list.Most < int.MaxValue)
            schema["maxItems"] = list.Most;
        return schema;
    }

    private static JsonObject OfMap(MapOf map)
    {
        var schema = new JsonObject { ["type"] = "object", ["additionalProperties"] = Of(map.Value) };
        if (map.Names is not NameRule.Free)
            schema["propertyNames"] = new JsonObject { ["pattern"] = map.Names is NameRule.Folder ? FolderPattern : NamePattern, ["maxLength"] = Binding.Names.MaxLength };
        if (map.Least > 0)
            schema["minProperties"] = map.Least;
        if (map.Most < int.MaxValue)
            schema["maxProperties"] = map.Most;
        return schema;
    }

    private static JsonObject Reference(Section section) => new() { ["$ref"] = $"#/$defs/{section.Name}" };

    private static JsonArray Types(params string[] names) => [.. names.Select(n => (JsonNode)n)];

    // A word that editors take for a number or a truth value counts quoted as well.
    private static IEnumerable<JsonNode> Spellings(string word)
    {
        yield return CoreSchema.Plain(word)!;
        if (!CoreSchema.IsString(word))
            yield return JsonValue.Create(word);
    }

    private static JsonNode Example(Key key)
    {
        var diagnostics = new DiagnosticBag();
        var node = SyntaxReader.Read(new SourceText("", key.Example), diagnostics);
        return node is null || diagnostics.HasErrors ? throw new InvalidOperationException($"the example of '{key.Name}' is not YAML") : CoreSchema.ToJson(node)!;
    }
}
