namespace Locum.Budgeting;

/// <summary>What response times on a bus depend on besides its frames.</summary>
/// <param name="BitUs">Length of a bit at the bus' rate, µs rounded up.</param>
public sealed record BusConditions(long BitUs)
{
    // Error flags of both sides, delimiter and intermission: 31 bits at most (Davis et al. 2007, from memory).
    private const int ErrorBits = 31;

    /// <summary>The least distance of two errors on the bus, µs; null: none.</summary>
    public long? ErrorsEveryUs { get; init; }

    /// <summary>Transmit mailboxes of a board's controller, by station.</summary>
    public IReadOnlyList<int> Mailboxes { get; init; } = [];

    /// <summary>Time lost to errors in a window: each costs an error frame and the longest frame that may be sent again.</summary>
    public long ErrorsUs(long windowUs, long longestUs) =>
        ErrorsEveryUs is not { } every ? 0 : ((windowUs + every - 1) / every) * ((ErrorBits * BitUs) + longestUs);
}
