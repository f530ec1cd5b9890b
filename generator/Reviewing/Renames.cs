namespace Locum.Reviewing;

/// <summary>Finds things that only have another name: those that are gone and those that are new, with the same identity, told apart.</summary>
internal static class Renames
{
    /// <summary>Pairs of items that are one and the same, by name first, then by identity.</summary>
    public static IReadOnlyList<(Item Old, Item New)> Pair(IReadOnlyList<Item> before, IReadOnlyList<Item> after)
    {
        var pairs = new List<(Item, Item)>();
        foreach (var old in before)
            if (after.FirstOrDefault(n => Key(n) == Key(old)) is { } same)
                pairs.Add((old, same));
        var gone = before.Where(o => pairs.All(p => p.Item1 != o)).ToLookup(i => (i.Kind, i.Identity));
        var fresh = after.Where(n => pairs.All(p => p.Item2 != n)).ToLookup(i => (i.Kind, i.Identity));
        foreach (var group in gone.Where(g => g.Key.Identity.Length > 0 && g.Count() is 1 && fresh[g.Key].Count() is 1))
            pairs.Add((group.First(), fresh[group.Key].First()));
        return pairs;
    }

    /// <summary>Adds the new names of the parts of a module and of its frames; true when there were any.</summary>
    public static bool Find(Item before, Item after, Dictionary<(string Kind, string Of, string Old), string> renamed)
    {
        var known = renamed.Count;
        foreach (var (old, now) in Pair(before.Children, after.Children))
        {
            Add(old, now, "", renamed);
            var frame = old.WasNamed ?? old.Name;
            foreach (var (oldField, field) in Pair(old.Children, now.Children))
            {
                Add(oldField, field, frame, renamed);
                foreach (var (oldOnPage, onPage) in Pair(oldField.Children, field.Children))
                    Add(oldOnPage, onPage, $"{frame} {oldField.Name}", renamed);
            }
        }
        return renamed.Count > known;
    }

    private static void Add(Item old, Item now, string of, Dictionary<(string Kind, string Of, string Old), string> renamed)
    {
        if (old.Name != now.Name)
            renamed[(old.Kind, of, old.WasNamed ?? old.Name)] = now.Name;
    }

    private static (string, string) Key(Item item) => (item.Kind, item.Name);
}
