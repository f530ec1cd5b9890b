using Locum.Wire;

namespace Locum.Drafting;

/// <summary>What a new project is made of.</summary>
public sealed record StarterOptions
{
    /// <summary>The kind of board.</summary>
    public required string Board { get; init; }

    /// <summary>Name of the project and of its board.</summary>
    public required string Project { get; init; }

    /// <summary>Name of the module and of its files.</summary>
    public required string Module { get; init; }

    public required string Bus { get; init; }

    /// <summary>Bit/s.</summary>
    public required int Rate { get; init; }

    /// <summary>The identifier of the module's one frame.</summary>
    public required CanId Id { get; init; }

    /// <summary>The input that wakes the module; null when it sends from power-on.</summary>
    public string? WakeLine { get; init; }

    /// <summary>The word of the hazard class; "none" for none.</summary>
    public required string Hazard { get; init; }

    public bool IsHazardous => Hazard is not "none";
}
