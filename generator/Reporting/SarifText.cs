using Locum.Diagnostics;

namespace Locum.Reporting;

/// <summary>Texts in the forms that SARIF asks for.</summary>
internal static class SarifText
{
    /// <summary>The title as one word in Pascal case ("FieldsOverlap").</summary>
    public static string RuleName(Code code) => string.Concat(code.Title
        .Split([' ', '-', ',', '/', '\''], StringSplitOptions.RemoveEmptyEntries)
        .Select(w => char.ToUpperInvariant(w[0]) + w[1..]));

    /// <summary>What is wrong and what to do, as sentences.</summary>
    public static string Message(Diagnostic diagnostic) => diagnostic.Mend is { } mend
        ? $"{Stop(diagnostic.Message)} Mend: {Stop(mend)}" : Stop(diagnostic.Message);

    /// <summary>A path as a URI reference (RFC 3986): relative paths stay relative, absolute ones get the file scheme.</summary>
    public static string Uri(string path)
    {
        var forward = Path.DirectorySeparatorChar is '\\' ? path.Replace('\\', '/') : path;
        var escaped = string.Join('/', JsonStyle.WellFormed(forward).Split('/').Select(System.Uri.EscapeDataString));
        if (forward.StartsWith('/'))
            return "file://" + escaped;
        // A drive letter's colon belongs to the path of a file URI (RFC 8089, appendix E.2).
        return Path.IsPathFullyQualified(path) ? "file:///" + escaped.Replace("%3A", ":", StringComparison.Ordinal) : escaped;
    }

    private static string Stop(string sentence) => sentence.Length > 0 && sentence[^1] is '.' or '?' or '!' ? sentence : sentence + ".";
}
