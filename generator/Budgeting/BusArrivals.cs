using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>
/// Releases of one identifier on a bus: at least a period apart, each up to the jitter late. A frame with a period and
/// events is two streams with one identifier. All times in µs.
/// </summary>
public sealed record BusArrivals
{
    /// <summary>Module and frame; empty for other nodes.</summary>
    public required string Name { get; init; }

    public required CanId Id { get; init; }

    /// <summary>Number of the board that sends it; null for another node, of which only the identifier is known.</summary>
    public int? Station { get; init; }

    /// <summary>The least distance of two releases, apart from jitter.</summary>
    public required long PeriodUs { get; init; }

    /// <summary>From the release as meant to the offer to the controller.</summary>
    public long JitterUs { get; init; }

    public required long DeadlineUs { get; init; }

    /// <summary>The longest time on the wire, SOF to EOF, with every stuff bit there can be.</summary>
    public required long WireUs { get; init; }

    /// <summary>The same with the intermission behind it: what the bus is taken for.</summary>
    public required long SlotUs { get; init; }

    /// <summary>Mean time with intermission of the payloads that were composed or seen.</summary>
    public double MeanSlotUs { get; init; }

    /// <summary>The usual distance of releases, for the mean load.</summary>
    public double MeanPeriodUs { get; init; }

    /// <summary>The board's module that sends it, and in which of its modes.</summary>
    public (int Module, IReadOnlyList<int> Modes)? Sender { get; init; }

    /// <summary>Where the least distance comes from.</summary>
    public StreamBasis Basis { get; init; }

    /// <summary>The highest load that the stream makes.</summary>
    public double WorstLoad => (double)SlotUs / PeriodUs;

    public double MeanLoad => MeanSlotUs / MeanPeriodUs;
}
