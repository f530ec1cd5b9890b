using Locum.Inference;
using Locum.Wire;

namespace Locum.Comparing;

/// <summary>What differs when the module is there and when it is not.</summary>
public enum DifferenceKind
{
    /// <summary>Sent only when the module is there.</summary>
    Missing,

    /// <summary>Sent only when the module is gone.</summary>
    Appeared,

    Period,
    Length,

    /// <summary>Bits that live with the module and stand still without it.</summary>
    Froze,

    /// <summary>Bits that stand still with the module and live without it.</summary>
    Woke,

    /// <summary>Bits that always have another value.</summary>
    Value,
}

/// <summary>An identifier that differs.</summary>
public sealed record Difference
{
    public required DifferenceKind Kind { get; init; }

    /// <summary>Name of the bus.</summary>
    public required string Bus { get; init; }

    public required CanId Id { get; init; }

    /// <summary>Frames in captures with the module.</summary>
    public required long With { get; init; }

    /// <summary>Frames in captures without it.</summary>
    public required long Without { get; init; }

    /// <summary>Captures with the identifier among those that would show it.</summary>
    public required int Present { get; init; }

    /// <summary>Captures of that kind that have the bus.</summary>
    public required int Of { get; init; }

    /// <summary>Usual distance with the module, or without it for what appeared, µs; null when there is no period.</summary>
    public double? PeriodUs { get; init; }

    /// <summary>Frames expected in the time in which there were none; 0 for other kinds.</summary>
    public double Expected { get; init; }

    /// <summary>What changed, for people; empty for what is missing or appeared.</summary>
    public string What { get; init; } = "";

    public required Evidence Evidence { get; init; }

    public Confidence Confidence => Evidence.Confidence;

    /// <summary>Letter of the group of identifiers that probably have one sender; null for none.</summary>
    public char? Group { get; init; }
}
