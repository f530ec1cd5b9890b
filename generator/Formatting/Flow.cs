using Locum.Schema;
using Locum.Syntax;

namespace Locum.Formatting;

/// <summary>Mappings in braces and lists in brackets, on one line.</summary>
internal static class Flow
{
    /// <summary>The collection on one line; null when it has to be written in several.</summary>
    /// <param name="shape">What is expected at the place; null where nothing is known.</param>
    public static string? Of(SyntaxNode node, Shape? shape, Trivia trivia)
    {
        if (node is ScalarNode scalar)
            return scalar is { Value: "", Quoted: false } ? null : ScalarText.Of(scalar, shape, flow: true);
        var children = trivia.Children(node);
        if (children.Count is 0)
            return trivia.Tail(node).Count > 0 ? null : node is MappingNode ? "{}" : "[]";
        var found = Language.For(shape, node);
        if (!trivia.IsFlow(node) || Places.IsBlock(found) || trivia.Tail(node).Count > 0 || children.Any(c => c.Before.Count + c.Beside.Count > 0))
            return null;
        var parts = Places.Ordered(children, found)
            .Select(c => Of(c.Value, Places.Behind(found, c), trivia) is { } text ? c.Key is null ? text : $"{ScalarText.Key(c.Key.Value, flow: true)}: {text}" : null)
            .ToList();
        if (parts.Contains(null))
            return null;
        return node is MappingNode ? $"{{{string.Join(", ", parts)}}}" : $"[{string.Join(", ", parts)}]";
    }
}
