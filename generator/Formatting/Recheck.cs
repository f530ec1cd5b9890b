using Locum.Diagnostics;
using Locum.Schema;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Formatting;

/// <summary>Reads a formatted text again and holds it against the original, so that no mistake here can change a file's meaning.</summary>
internal static class Recheck
{
    /// <exception cref="InvalidOperationException">The texts differ in more than form.</exception>
    public static void Same(SourceText source, MappingNode before, string text, Shape shape)
    {
        var bag = new DiagnosticBag();
        var formatted = new SourceText(source.Path, text);
        var after = SyntaxReader.Read(formatted, bag);
        if (after is null || bag.HasErrors || !Same(before, after, shape))
            throw new InvalidOperationException($"formatting '{source.Path}' would change its meaning");
        if (!Texts(source).SequenceEqual(Texts(formatted)))
            throw new InvalidOperationException($"formatting '{source.Path}' would lose a comment");
    }

    private static IEnumerable<string> Texts(SourceText source) => CommentReader.Read(source).Select(c => c.Text).Order(StringComparer.Ordinal);

    private static bool Same(SyntaxNode before, SyntaxNode after, Shape? shape)
    {
        var found = Language.For(shape, before);
        switch (before, after)
        {
            case (ScalarNode a, ScalarNode b):
                return ScalarText.Normal(a.Value, found) == b.Value && (a.Value.Length > 0 || a.Quoted == b.Quoted);
            case (SequenceNode a, SequenceNode b):
                return a.Items.Count == b.Items.Count && a.Items.Zip(b.Items).All(p => Same(p.First, p.Second, found is ListOf list ? list.Item : found is ByteRow ? new Whole(0, 255) : null));
            case (MappingNode a, MappingNode b):
                var entries = b.Entries.ToDictionary(e => e.Key.Value, e => e.Value, StringComparer.Ordinal);
                var names = found is not Mapping;
                return a.Entries.Count == b.Entries.Count
                    && (!names || a.Entries.Select(e => e.Key.Value).SequenceEqual(b.Entries.Select(e => e.Key.Value)))
                    && a.Entries.All(e => entries.TryGetValue(e.Key.Value, out var value) && Same(e.Value, value, Behind(found, e.Key.Value)));
            default:
                return false;
        }
    }

    private static Shape? Behind(Shape? found, string key) => found switch
    {
        Mapping { Section: var section } => section.Find(key)?.Shape ?? section.Open,
        MapOf map => map.Value,
        _ => null,
    };
}
