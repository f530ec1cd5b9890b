using Locum.Syntax;

namespace Locum.Schema;

/// <summary>The description language as a table: files, sections, keys.</summary>
public static class Language
{
    /// <summary>Kinds of files, with the key that tells them apart; the last one is the rest.</summary>
    public static IReadOnlyList<(string Key, Section Root)> Files { get; } =
        [("project", ProjectSections.Root), ("stimulus", StimulusSections.Root), ("layout", LayoutSections.Root), ("module", ModuleSections.Root)];

    /// <summary>Every section, in order of first use.</summary>
    public static IReadOnlyList<Section> Sections { get; } = Reachable();

    /// <summary>The root section of a file, chosen by its keys as the loader does.</summary>
    public static Section RootOf(SyntaxNode root) =>
        Files.First(f => f.Key is "module" || (root is MappingNode mapping && mapping.Entries.Any(e => e.Key.Value == f.Key))).Root;

    /// <summary>The part of a shape that speaks of a node of this kind; null when there is none.</summary>
    public static Shape? For(Shape? shape, SyntaxNode node) => (shape, node) switch
    {
        (Either either, _) => either.Shapes.Select(s => For(s, node)).FirstOrDefault(s => s is not null),
        (Mapping mapping, MappingNode m) => IsMeant(mapping.Section, m) ? mapping : null,
        (MapOf map, MappingNode) => map,
        (ListOf list, SequenceNode) => list,
        (ByteRow row, SequenceNode) => row,
        (Nothing, ScalarNode { Value: "", Quoted: false }) => shape,
        (Mapping or MapOf or ListOf or Nothing, _) => null,
        (not null, ScalarNode scalar) => Fit.Fits(shape, scalar.Value) ? shape : null,
        _ => null,
    };

    // Rules of checksums are told apart by their first key.
    private static bool IsMeant(Section section, MappingNode node) =>
        section.What is not "a checksum rule" || node.Entries.Any(e => e.Key.Value == section.Keys[0].Name);

    private static List<Section> Reachable()
    {
        var found = new List<Section>();
        foreach (var (_, root) in Files.Reverse())
            Visit(new Mapping(root), found);
        return found;
    }

    private static void Visit(Shape shape, List<Section> found)
    {
        switch (shape)
        {
            case Mapping { Section: var section } when !found.Contains(section):
                found.Add(section);
                foreach (var key in section.Keys)
                    Visit(key.Shape, found);
                if (section.Open is { } open)
                    Visit(open, found);
                break;
            case MapOf map:
                Visit(map.Value, found);
                break;
            case ListOf list:
                Visit(list.Item, found);
                break;
            case Either either:
                foreach (var one in either.Shapes)
                    Visit(one, found);
                break;
            default:
                break;
        }
    }
}
