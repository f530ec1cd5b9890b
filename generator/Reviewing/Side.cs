using Locum.Diagnostics;
using Locum.Pipeline;
using Locum.Text;

namespace Locum.Reviewing;

/// <summary>One of two revisions: a file, a folder, or "REVISION:PATH".</summary>
public sealed record Side
{
    /// <summary>Null when it is not usable.</summary>
    public Subject? Subject { get; init; }

    public required IReadOnlyList<Diagnostic> Findings { get; init; }

    public required IReadOnlyDictionary<string, SourceText> Sources { get; init; }

    /// <summary>Loads what the user named. What exists as a file or folder is that; otherwise a ':' parts a git revision from a path in it.</summary>
    /// <param name="scratch">An empty folder for files of a revision.</param>
    /// <exception cref="GitException">The revision cannot be read.</exception>
    public static Side Load(string name, string scratch)
    {
        var colon = name.IndexOf(':', StringComparison.Ordinal);
        if (File.Exists(name) || Directory.Exists(name) || colon < 1)
            return Of(Loader.Load(name), p => p);
        var (revision, path) = (name[..colon], name[(colon + 1)..]);
        var file = Git.Extract(".", revision, path, scratch);
        return Of(Loader.Load(file), p => p.StartsWith(scratch, StringComparison.Ordinal) ? $"{revision}:{Path.GetRelativePath(scratch, p).Replace('\\', '/')}" : p);
    }

    private static Side Of(Loaded loaded, Func<string, string> rename) => new()
    {
        Subject = Subject.Of(loaded),
        Findings = [.. loaded.Diagnostics.Sorted.Select(d => d with { Span = d.Span with { File = rename(d.Span.File) }, Other = d.Other is { } other ? other with { File = rename(other.File) } : null })],
        Sources = loaded.Sources.ToDictionary(s => rename(s.Key), s => s.Value, StringComparer.Ordinal),
    };
}
