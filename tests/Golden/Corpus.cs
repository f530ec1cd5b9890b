using Locum.Diagnostics;
using Locum.Pipeline;
using Locum.Reporting;
using Locum.Text;

namespace Locum.Tests.Golden;

/// <summary>The descriptions in the corpus folders, and what the program says about them.</summary>
internal static class Corpus
{
    public static string Folder(string kind) => RepoRoot.Path("tests", "Golden", kind);

    /// <summary>Names of the cases of a folder: files, and folders that hold a project. An empty corpus is a fault.</summary>
    public static IReadOnlyList<string> Cases(string kind)
    {
        var folder = Folder(kind);
        string[] cases =
        [
            .. Directory.EnumerateFiles(folder, "*.yaml").Select(f => Path.GetFileName(f)),
            .. Directory.EnumerateDirectories(folder).Select(f => Path.GetFileName(f)),
        ];
        return cases.Length > 0 ? [.. cases.Order(StringComparer.Ordinal)] : throw new InvalidOperationException($"no case in {folder}");
    }

    public static Loaded Load(string kind, string name) => Loader.Load(Path.Combine(Folder(kind), name));

    /// <summary>The findings as printed into a pipe, with paths relative to the corpus folder.</summary>
    public static string Print(string kind, string name)
    {
        var writer = new StringWriter();
        DiagnosticText.Write(writer, [.. Load(kind, name).Diagnostics.Sorted.Select(d => Relative(d, Folder(kind)))], new Dictionary<string, SourceText>(), excerpts: false, colours: false);
        return writer.ToString();
    }

    private static Diagnostic Relative(Diagnostic d, string folder) => d with
    {
        Span = Relative(d.Span, folder),
        Other = d.Other is { } other ? Relative(other, folder) : null,
    };

    private static Span Relative(Span span, string folder) => span with { File = Path.GetRelativePath(folder, span.File).Replace('\\', '/') };
}
