using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using Locum.Diagnostics;
using Locum.Schema;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Tests.Unit.Schema;

/// <summary>A file as an editor with the schema sees it.</summary>
internal static class EditorView
{
    public static readonly JsonSchema Schema = JsonSchema.FromText(SchemaDocument.Text());

    /// <summary>The syntax of a file; null where the text cannot be used.</summary>
    public static SyntaxNode? Parse(string path)
    {
        var bag = new DiagnosticBag();
        return SyntaxReader.ReadFile(path, bag) is { } source ? SyntaxReader.Read(source, bag) : null;
    }

    public static SyntaxNode ParseText(string text) =>
        SyntaxReader.Read(new SourceText("test.yaml", text), new DiagnosticBag()) ?? throw new InvalidOperationException("the text of a test is not usable YAML");

    /// <summary>Places (JSON pointers) at which the schema objects; empty when it accepts the file.</summary>
    public static IReadOnlyList<string> Objections(SyntaxNode root)
    {
        using var document = JsonDocument.Parse(CoreSchema.ToJson(root)?.ToJsonString() ?? "null");
        var result = Schema.Evaluate(document.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.Hierarchical });
        return [.. Failed(result).Select(r => r.InstanceLocation.ToString()).Distinct()];
    }

    // Keywords that only pass on what was found further inside.
    private static readonly string[] s_passing = ["properties", "additionalProperties", "items", "$ref", "then", "else", "anyOf"];

    // Branches may fail without an objection: those of 'if' always, others while one of them fits.
    private static IEnumerable<EvaluationResults> Failed(EvaluationResults result)
    {
        if (result.IsValid)
            return [];
        var inside = (result.Details ?? []).GroupBy(d => Keyword(result, d))
            .Where(g => g.Key is not "if" && !(g.Key is "anyOf" or "oneOf" && g.Any(d => d.IsValid)))
            .SelectMany(g => g).SelectMany(Failed).ToList();
        var own = (result.Errors ?? new Dictionary<string, string>()).Keys.Except(s_passing).Any();
        return own ? inside.Append(result) : inside;
    }

    // The keyword of a schema that led to a result inside it.
    private static string Keyword(EvaluationResults outer, EvaluationResults inner) =>
        inner.EvaluationPath.ToString()[outer.EvaluationPath.ToString().Length..].Split('/').ElementAtOrDefault(1) ?? "";

    /// <summary>The pointer of the innermost value or key that holds a place.</summary>
    public static string PointerTo(SyntaxNode root, Span place)
    {
        var pointer = "";
        for (var node = root; ;)
        {
            var next = Children(node).FirstOrDefault(c => Holds(c.Key, place) || Holds(c.Node.Span, place));
            if (next.Node is null)
                return pointer;
            pointer += "/" + next.Name.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal);
            if (Holds(next.Key, place))
                return pointer;
            node = next.Node;
        }
    }

    private static IEnumerable<(string Name, Span Key, SyntaxNode Node)> Children(SyntaxNode node) => node switch
    {
        MappingNode mapping => mapping.Entries.Select(e => (e.Key.Value, e.Key.Span, e.Value)),
        SequenceNode sequence => sequence.Items.Select((item, i) => (i.ToString(), default(Span), item)),
        _ => [],
    };

    private static bool Holds(Span outer, Span inner) => outer == inner ||
        (outer.Line, outer.Column).CompareTo((inner.Line, inner.Column)) <= 0
        && (outer.EndLine, outer.EndColumn).CompareTo((inner.Line, inner.Column)) > 0;
}
