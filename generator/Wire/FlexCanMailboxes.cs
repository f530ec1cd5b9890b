namespace Locum.Wire;

/// <summary>A receive mailbox of a FlexCAN controller: identifier, individual mask (0: not used), and the kind of identifier.</summary>
public readonly record struct FlexCanMailbox(uint Id, uint Mask, bool Extended);

/// <summary>The receive mailboxes of FlexCAN controllers as the port uses them (reference manual, "Message buffer structure"; from memory).</summary>
public static class FlexCanMailboxes
{
    /// <summary>Mailboxes that receive.</summary>
    public const int Count = 10;

    private const int StandardOfBoth = 5;
    private const int StandardShift = 18;
    // A mask of 0 marks a mailbox that is not used; a bit that no identifier of 29 bits has means one that lets all in.
    private const uint Everything = 1u << 29;

    /// <summary>Always <see cref="Count"/> mailboxes, in two chains (<see cref="MailboxChains"/>).</summary>
    public static IReadOnlyList<FlexCanMailbox> For(IEnumerable<IdPattern> patterns) =>
        [.. MailboxChains.Divide(patterns, Count, StandardOfBoth).Select(b => b.Pattern is not { } wanted ? default
            : new FlexCanMailbox(Place(wanted, wanted.Id.Value & wanted.Mask), Place(wanted, wanted.Mask) | Everything, wanted.Id.Extended))];

    private static uint Place(IdPattern pattern, uint bits) => pattern.Id.Extended ? bits : bits << StandardShift;
}
