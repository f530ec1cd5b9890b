using System.Collections.Concurrent;
using Locum.Diagnostics;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Boards;

/// <summary>All boards the program knows, by name.</summary>
public static class BoardCatalogue
{
    private const string Prefix = "templates/boards/";
    private const string Suffix = "/board.yaml";

    private static readonly ConcurrentDictionary<string, BoardKind> s_read = new(StringComparer.Ordinal);

    public static IReadOnlyList<string> Names { get; } =
    [
        .. Resources.Names
            .Where(n => n.StartsWith(Prefix, StringComparison.Ordinal) && n.EndsWith(Suffix, StringComparison.Ordinal))
            .Select(n => n[Prefix.Length..^Suffix.Length])
            .Order(StringComparer.Ordinal),
    ];

    /// <summary>The board, or null when there is none of that name.</summary>
    public static BoardKind? Find(string name) => Names.Contains(name) ? s_read.GetOrAdd(name, Read) : null;

    private static BoardKind Read(string name)
    {
        var diagnostics = new DiagnosticBag();
        var source = new SourceText($"{Prefix}{name}{Suffix}", Resources.Text($"{Prefix}{name}{Suffix}"));
        var root = SyntaxReader.Read(source, diagnostics);
        var kind = root is null ? null : BoardReader.Bind(name, root, diagnostics);
        return diagnostics.HasErrors || kind is null
            ? throw new InvalidOperationException($"built-in board file: {string.Join("; ", diagnostics.Sorted.Select(d => $"{d.Span}: {d.Message}"))}")
            : kind;
    }
}
