namespace Locum.Budgeting;

/// <summary>What a bus has left.</summary>
public sealed record BusBudget
{
    public required string Name { get; init; }

    /// <summary>bit/s.</summary>
    public required int Rate { get; init; }

    public int? DataRate { get; init; }

    /// <summary>In order of priority.</summary>
    public required IReadOnlyList<Response> Responses { get; init; }

    /// <summary>Frames whose phases can be chosen.</summary>
    public required IReadOnlyList<OffsetGroup> Groups { get; init; }

    /// <summary>Share of the time in which the bus is taken: usual distances and composed payloads.</summary>
    public required double MeanLoad { get; init; }

    /// <summary>The same with least distances and every stuff bit there can be.</summary>
    public required double WorstLoad { get; init; }

    /// <summary>The boards' part of both.</summary>
    public required double OwnMeanLoad { get; init; }

    public required double OwnWorstLoad { get; init; }

    /// <summary>True when captures say what other nodes send.</summary>
    public required bool KnowsOthers { get; init; }

    /// <summary>Every frame has a bound within its deadline.</summary>
    public bool Holds => Responses.All(r => r.Meets);
}
