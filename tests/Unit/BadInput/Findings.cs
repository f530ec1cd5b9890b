using Locum.Diagnostics;
using Locum.Pipeline;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.BadInput;

/// <summary>Loads what a test wrote and holds every finding against what all findings promise.</summary>
internal static class Findings
{
    /// <summary>Loads a path; the findings have been checked.</summary>
    public static IReadOnlyList<Diagnostic> Of(string path) => Check(Loader.Load(path));

    /// <summary>Writes a text to a file, loads it, and checks the findings.</summary>
    public static IReadOnlyList<Diagnostic> OfText(string text)
    {
        using var folder = new TempFolder();
        var path = folder.Path("bad.yaml");
        File.WriteAllText(path, text);
        return Of(path);
    }

    private static IReadOnlyList<Diagnostic> Check(Loaded loaded)
    {
        var found = loaded.Diagnostics.Sorted;
        foreach (var d in found)
        {
            Assert.NotEmpty(d.Message);
            Assert.True(d.Message.Length < 2_000, $"{d.Code.Id}: a message of {d.Message.Length} characters");
            Assert.True(d.Severity is not Severity.Error || !string.IsNullOrWhiteSpace(d.Mend), $"{d.Code.Id} has no mend: {d.Message}");
            Assert.True((d.Mend?.Length ?? 0) < 2_000, $"{d.Code.Id}: a mend of {d.Mend?.Length} characters");
            CheckPlace(d.Span, loaded, d);
            if (d.Other is { } other)
                CheckPlace(other, loaded, d);
        }
        return found;
    }

    private static void CheckPlace(Span span, Loaded loaded, Diagnostic d)
    {
        var place = $"{span.Line}:{span.Column}-{span.EndLine}:{span.EndColumn} of {d.Code.Id} '{d.Message}'";
        Assert.True(span.Line >= 1 && span.Column >= 1, $"{place} begins before the text");
        Assert.True(span.EndLine > span.Line || (span.EndLine == span.Line && span.EndColumn >= span.Column), $"{place} ends before it begins");
        if (!loaded.Sources.TryGetValue(span.File, out var source))
            return; // the file could not be read
        Assert.True(span.Line <= source.LineCount, $"{place} lies behind the last line, {source.LineCount}");
        Assert.True(span.Column <= source.Line(span.Line).Length + 1, $"{place} lies behind the end of its line");
        Assert.True(span.EndLine <= source.LineCount, $"{place} ends behind the last line, {source.LineCount}");
    }
}
