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
    public static IReadOnlyList<Sam3xMailbox> For(IEnumerable<IdPattern> patterns) =>
        [.. MailboxChains.Divide(patterns, Count, StandardOfBoth).Select(b => b.Pattern is not { } wanted ? default : new Sam3xMailbox(
            wanted.Id.Extended ? ExtendedBit | (wanted.Id.Value & wanted.Mask) : (wanted.Id.Value & wanted.Mask) << StandardShift,
            ExtendedBit | (wanted.Id.Extended ? wanted.Mask : wanted.Mask << StandardShift),
            b.Last))];
}
