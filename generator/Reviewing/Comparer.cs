namespace Locum.Reviewing;

/// <summary>Compares two lists of items, things that were renamed having their new names already.</summary>
internal static class Comparer
{
    public static IEnumerable<Change> Compare(IReadOnlyList<Item> before, IReadOnlyList<Item> after, IReadOnlyList<string> path)
    {
        foreach (var item in before)
        {
            if (after.FirstOrDefault(a => a.Kind == item.Kind && a.Name == item.Name) is { } same)
                foreach (var change in Compare(item, same, path))
                    yield return change;
            else
                yield return new Change(ChangeKind.Removed, [.. path, Named(item)], "", Hint(item), null, IsHazard(item));
        }
        foreach (var item in after.Where(a => before.All(b => b.Kind != a.Kind || b.Name != a.Name)))
            yield return new Change(ChangeKind.Added, [.. path, Named(item)], "", null, Hint(item), IsHazard(item));
    }

    private static IEnumerable<Change> Compare(Item before, Item after, IReadOnlyList<string> outer)
    {
        string[] path = [.. outer, Named(after)];
        if (before.WasNamed is { } old)
            yield return new Change(ChangeKind.Renamed, path, "", old, after.Name, false);
        foreach (var change in CompareFacts(before, after, path))
            yield return change;
        foreach (var change in Compare(before.Children, after.Children, path))
            yield return change;
    }

    private static IEnumerable<Change> CompareFacts(Item before, Item after, IReadOnlyList<string> path)
    {
        foreach (var label in before.Facts.Concat(after.Facts).Select(f => f.Label).Distinct())
        {
            var old = before.Facts.FirstOrDefault(f => f.Label == label);
            var now = after.Facts.FirstOrDefault(f => f.Label == label);
            var any = (now ?? old)!;
            if (any.Of is { } of && Value(before, of) != Value(after, of))
                continue;
            if ((old?.Value ?? any.Usual) == (now?.Value ?? any.Usual))
                continue;
            var kind = old is null && any.Usual is null ? ChangeKind.Added : now is null && any.Usual is null ? ChangeKind.Removed : ChangeKind.Changed;
            yield return new Change(kind, path, label, Shown(old) ?? any.Usual, Shown(now) ?? any.Usual, any.Hazard);
        }
    }

    private static string? Shown(Fact? fact) => fact?.Shown ?? fact?.Value;

    private static string? Value(Item item, string label) => item.Facts.FirstOrDefault(f => f.Label == label)?.Value;

    private static string Named(Item item) => $"{item.Kind} {item.Name}";

    private static string Hint(Item item) => item.Hint;

    // A whole module that comes or goes concerns someone's safety when it has a hazard class.
    private static bool IsHazard(Item item) => item.Facts.Any(f => f.Hazard && f.Label is "hazard" && f.Value is not "none");
}
