using System.Text.Json;
using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Reporting;

/// <summary>Findings as a SARIF 2.1.0 log (OASIS standard), for code-review tools.</summary>
public static class DiagnosticSarif
{
    private const string Schema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

    /// <summary>Writes one log with one run; UTF-8, "\n". Relative paths stay relative references, absolute ones become file URIs.</summary>
    /// <param name="version">The program's version (semantic versioning 2.0.0).</param>
    public static void Write(Stream stream, IReadOnlyList<Diagnostic> diagnostics, string version)
    {
        var rules = diagnostics.Select(d => d.Code).Distinct().OrderBy(c => c.Id, StringComparer.Ordinal).ToList();
        using (var json = new Utf8JsonWriter(stream, JsonStyle.Options))
        {
            json.WriteStartObject();
            json.WriteString("$schema", Schema);
            json.WriteString("version", "2.1.0");
            json.WriteStartArray("runs");
            json.WriteStartObject();
            WriteTool(json, rules, version);
            json.WriteString("columnKind", "utf16CodeUnits");
            json.WriteStartArray("results");
            foreach (var diagnostic in diagnostics)
                WriteResult(json, diagnostic, rules.IndexOf(diagnostic.Code));
            json.WriteEndArray();
            json.WriteEndObject();
            json.WriteEndArray();
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
    }

    private static void WriteTool(Utf8JsonWriter json, List<Code> rules, string version)
    {
        json.WriteStartObject("tool");
        json.WriteStartObject("driver");
        json.WriteString("name", "Locum");
        json.WriteString("semanticVersion", version);
        json.WriteStartArray("rules");
        foreach (var code in rules)
        {
            json.WriteStartObject();
            json.WriteString("id", code.Id);
            json.WriteString("name", SarifText.RuleName(code));
            WriteMessage(json, "shortDescription", code.Title);
            WriteMessage(json, "fullDescription", code.Help);
            json.WriteStartObject("defaultConfiguration");
            json.WriteString("level", SeverityWords.Of(code.Severity));
            json.WriteEndObject();
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void WriteResult(Utf8JsonWriter json, Diagnostic diagnostic, int rule)
    {
        json.WriteStartObject();
        json.WriteString("ruleId", diagnostic.Code.Id);
        json.WriteNumber("ruleIndex", rule);
        json.WriteString("level", SeverityWords.Of(diagnostic.Severity));
        WriteMessage(json, "message", SarifText.Message(diagnostic));
        json.WriteStartArray("locations");
        WriteLocation(json, diagnostic.Span, null);
        json.WriteEndArray();
        if (diagnostic.Other is { } other)
        {
            json.WriteStartArray("relatedLocations");
            WriteLocation(json, other, "the other place");
            json.WriteEndArray();
        }
        json.WriteEndObject();
    }

    private static void WriteLocation(Utf8JsonWriter json, Span span, string? message)
    {
        json.WriteStartObject();
        json.WriteStartObject("physicalLocation");
        json.WriteStartObject("artifactLocation");
        json.WriteString("uri", SarifText.Uri(span.File));
        json.WriteEndObject();
        json.WriteStartObject("region");
        json.WriteNumber("startLine", span.Line);
        json.WriteNumber("startColumn", span.Column);
        json.WriteNumber("endLine", span.EndLine);
        json.WriteNumber("endColumn", span.EndColumn);
        json.WriteEndObject();
        json.WriteEndObject();
        if (message is not null)
            WriteMessage(json, "message", message);
        json.WriteEndObject();
    }

    private static void WriteMessage(Utf8JsonWriter json, string key, string text)
    {
        json.WriteStartObject(key);
        json.WriteString("text", JsonStyle.WellFormed(text));
        json.WriteEndObject();
    }
}
