using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Locum.Tests.Golden;

/// <summary>The keys and words of the language, collected from the sources of the binders.</summary>
internal static class Vocabulary
{
    private static readonly string[] s_asking = ["Optional", "Required", "Named", "Has"];

    // Variables in which the binders hold the reader of a mapping.
    private static readonly string[] s_readers = ["reader", "module", "frame", "checksum", "fieldReader", "change"];

    /// <summary>Strings by which a binder asks a mapping for a key.</summary>
    public static IReadOnlyList<string> Keys() => [.. Nodes<InvocationExpressionSyntax>().SelectMany(Asked).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>Strings that stand for a value in a table of words (["high"] = true). Units are tested with the quantities.</summary>
    public static IReadOnlyList<string> Words() =>
    [
        .. Nodes<ImplicitElementAccessSyntax>()
            .Where(n => Path.GetFileName(n.SyntaxTree.FilePath) is not "Quantity.cs")
            .SelectMany(n => n.ArgumentList.Arguments.Select(a => Literal(a.Expression)))
            .OfType<string>().Distinct().Order(StringComparer.Ordinal),
    ];

    // reader.Optional("key"), or a helper that gets both the reader and the key.
    private static IEnumerable<string> Asked(InvocationExpressionSyntax call)
    {
        var arguments = call.ArgumentList.Arguments.Select(a => a.Expression).ToList();
        if (call.Expression is MemberAccessExpressionSyntax { Name.Identifier.Text: var name } && s_asking.Contains(name))
            return arguments.Take(1).Select(Literal).OfType<string>();
        return arguments.Count > 1 && arguments[0] is IdentifierNameSyntax { Identifier.Text: var first } && s_readers.Contains(first)
            ? arguments.Skip(1).Take(1).Select(Literal).OfType<string>() : [];
    }

    private static string? Literal(ExpressionSyntax e) =>
        e is LiteralExpressionSyntax literal && literal.IsKind(SyntaxKind.StringLiteralExpression) ? literal.Token.ValueText : null;

    private static IEnumerable<T> Nodes<T>()
        where T : SyntaxNode => Directory.EnumerateFiles(RepoRoot.Path("generator", "Binding"), "*.cs")
            .SelectMany(f => CSharpSyntaxTree.ParseText(File.ReadAllText(f), path: f).GetRoot().DescendantNodes().OfType<T>());
}
