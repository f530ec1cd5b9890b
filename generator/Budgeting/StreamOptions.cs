namespace Locum.Budgeting;

/// <summary>Assumptions about boards' frames.</summary>
/// <param name="JitterUs">From a release to the offer; null: what is known of the board.</param>
/// <param name="EventsEveryUs">The least distance of events that nothing bounds, µs.</param>
public sealed record StreamOptions(long? JitterUs, long EventsEveryUs)
{
    /// <summary>What is assumed of events when nothing is said.</summary>
    public const long CustomaryEventsUs = 100_000;
}
