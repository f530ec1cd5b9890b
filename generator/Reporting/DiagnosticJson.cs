using System.Text.Json;
using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Reporting;

/// <summary>Findings for programs.</summary>
public static class DiagnosticJson
{
    /// <summary>Writes an array of {code, severity, title, message, mend?, file, line, column, endLine, endColumn, other?: {file, line, column, endLine, endColumn}}; UTF-8, "\n", absent keys where there is nothing.</summary>
    public static void Write(Stream stream, IReadOnlyList<Diagnostic> diagnostics)
    {
        using (var json = new Utf8JsonWriter(stream, JsonStyle.Options))
        {
            json.WriteStartArray();
            foreach (var diagnostic in diagnostics)
                WriteOne(json, diagnostic);
            json.WriteEndArray();
        }
        stream.WriteByte((byte)'\n');
    }

    private static void WriteOne(Utf8JsonWriter json, Diagnostic diagnostic)
    {
        json.WriteStartObject();
        json.WriteString("code", diagnostic.Code.Id);
        json.WriteString("severity", SeverityWords.Of(diagnostic.Severity));
        json.WriteString("title", diagnostic.Code.Title);
        json.WriteString("message", JsonStyle.WellFormed(diagnostic.Message));
        if (diagnostic.Mend is { } mend)
            json.WriteString("mend", JsonStyle.WellFormed(mend));
        WritePlace(json, diagnostic.Span);
        if (diagnostic.Other is { } other)
        {
            json.WriteStartObject("other");
            WritePlace(json, other);
            json.WriteEndObject();
        }
        json.WriteEndObject();
    }

    private static void WritePlace(Utf8JsonWriter json, Span span)
    {
        json.WriteString("file", JsonStyle.WellFormed(span.File));
        json.WriteNumber("line", span.Line);
        json.WriteNumber("column", span.Column);
        json.WriteNumber("endLine", span.EndLine);
        json.WriteNumber("endColumn", span.EndColumn);
    }
}
