namespace Locum.Wire;

/// <summary>
/// Divides receive mailboxes into chains, one for 11-bit and one for 29-bit identifiers. All mailboxes of a chain have one
/// identifier and one mask, so that the order of frames is kept; what passes too much, the core drops.
/// </summary>
internal static class MailboxChains
{
    /// <summary>What each of so many mailboxes lets in, null for one that is not needed, and whether it is the last of its chain.</summary>
    /// <param name="standardOfBoth">Mailboxes for 11-bit identifiers when there are both kinds.</param>
    public static IReadOnlyList<(IdPattern? Pattern, bool Last)> Divide(IEnumerable<IdPattern> patterns, int count, int standardOfBoth)
    {
        var all = patterns.ToList();
        var standard = Joined(all.Where(p => !p.Id.Extended));
        var extended = Joined(all.Where(p => p.Id.Extended));
        var first = standard is null ? 0 : extended is null ? count : standardOfBoth;
        var second = extended is null ? 0 : count - first;
        return [.. Chain(standard, first), .. Chain(extended, second), .. Enumerable.Repeat(((IdPattern?)null, false), count - first - second)];
    }

    private static IdPattern? Joined(IEnumerable<IdPattern> patterns) =>
        patterns.Aggregate((IdPattern?)null, (joined, next) => joined is { } known ? known.Join(next) : next);

    private static IEnumerable<(IdPattern?, bool)> Chain(IdPattern? pattern, int count) => Enumerable.Range(0, count).Select(i => (pattern, i == count - 1));
}
