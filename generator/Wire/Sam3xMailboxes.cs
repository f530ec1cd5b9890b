namespace Locum.Wire;

/// <summary>A receive mailbox of a SAM3X8E: CAN_MID, CAN_MAM (0: not used), and whether it is the last of its chain.</summary>
public readonly record struct Sam3xMailbox(uint Id, uint Mask, bool Last);

/// <summary>
/// Divides the receive mailboxes of a SAM3X8E into chains, one for 11-bit and one for 29-bit identifiers. All mailboxes of a
/// chain have one identifier and one mask, so that the order of frames is kept; what passes too much, the core drops.
/// </summary>
public static class Sam3xMailboxes
{
    /// <summary>Mailboxes that receive.</summary>
    public const int Count = 5;

    private const int StandardOfBoth = 3;
    private const int StandardShift = 18;
    private const uint ExtendedBit = 1u << 29;

    /// <summary>Always <see cref="Count"/> mailboxes; those that are not needed have mask 0.</summary>
    public static IReadOnlyList<Sam3xMailbox> For(IEnumerable<IdPattern> patterns)
    {
        var all = patterns.ToList();
        var standard = Joined(all.Where(p => !p.Id.Extended));
        var extended = Joined(all.Where(p => p.Id.Extended));
        var first = standard is null ? 0 : extended is null ? Count : StandardOfBoth;
        var second = extended is null ? 0 : Count - first;
        return [.. Chain(standard, first), .. Chain(extended, second), .. Enumerable.Repeat(default(Sam3xMailbox), Count - first - second)];
    }

    private static IdPattern? Joined(IEnumerable<IdPattern> patterns) =>
        patterns.Aggregate((IdPattern?)null, (joined, next) => joined is { } known ? known.Join(next) : next);

    private static IEnumerable<Sam3xMailbox> Chain(IdPattern? pattern, int count) => pattern is not { } wanted ? []
        : Enumerable.Range(0, count).Select(i => new Sam3xMailbox(
            (wanted.Id.Extended ? ExtendedBit | (wanted.Id.Value & wanted.Mask) : (wanted.Id.Value & wanted.Mask) << StandardShift),
            ExtendedBit | (wanted.Id.Extended ? wanted.Mask : wanted.Mask << StandardShift),
            i == count - 1));
}
