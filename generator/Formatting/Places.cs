using Locum.Schema;

namespace Locum.Formatting;

/// <summary>What the language's table says about the places of a text.</summary>
internal static class Places
{
    /// <summary>True for sections that always have a line for each name or key.</summary>
    public static bool IsBlock(Shape? found) => found is MapOf { Block: true } or Mapping { Section.Block: true };

    /// <summary>The shape behind a key, or of an item.</summary>
    public static Shape? Behind(Shape? found, Anchor child) => (found, child.Key) switch
    {
        (Mapping { Section: var section }, { Value: var key }) => section.Find(key)?.Shape ?? section.Open,
        (MapOf map, not null) => map.Value,
        (ListOf list, null) => list.Item,
        (ByteRow, null) => new Whole(0, 255),
        _ => null,
    };

    /// <summary>Keys in the order of the table; names and items in the author's order; unknown keys at the end.</summary>
    public static IEnumerable<Anchor> Ordered(IReadOnlyList<Anchor> children, Shape? found)
    {
        if (found is not Mapping { Section: var section })
            return children;
        var order = section.Keys.Select((key, index) => (key.Name, index)).ToDictionary(p => p.Name, p => p.index);
        return children.OrderBy(c => order.TryGetValue(c.Key!.Value, out var index) ? index : section.Open is null ? int.MaxValue : -1);
    }
}
