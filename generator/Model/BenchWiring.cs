using Locum.Text;

namespace Locum.Model;

/// <summary>What the board's supply has to survive. One of current and power is given.</summary>
public sealed record HoldUp
{
    /// <summary>Drawn through a linear regulator, A.</summary>
    public decimal? CurrentA { get; init; }

    /// <summary>Drawn by a switching converter, W.</summary>
    public decimal? PowerW { get; init; }

    /// <summary>Supply before the dip, V.</summary>
    public required decimal BeforeV { get; init; }

    /// <summary>Supply during the dip, V.</summary>
    public required decimal DipV { get; init; }

    /// <summary>How long it lasts, µs.</summary>
    public required long DipUs { get; init; }

    /// <summary>The regulator's lowest input, V.</summary>
    public required decimal LowestV { get; init; }

    /// <summary>Drop of the diode in front of the capacitor, V.</summary>
    public required decimal DiodeV { get; init; }

    /// <summary>How much less than marked the capacitor may have, %.</summary>
    public required decimal TolerancePercent { get; init; }

    /// <summary>The capacitor that is there, F; null: to be chosen.</summary>
    public decimal? FittedF { get; init; }

    public required Span Span { get; init; }
}

/// <summary>A bus as it is wired.</summary>
/// <param name="Bus">Index in the module's list of buses.</param>
public sealed record BenchBus(int Bus, Span Span)
{
    /// <summary>Resistors between the two wires as the vehicle was.</summary>
    public required IReadOnlyList<Termination> Terminations { get; init; }

    /// <summary>What the stand-in carries, ohm; null: not decided.</summary>
    public decimal? StandInOhm { get; init; }

    /// <summary>From end to end, m; null: not known.</summary>
    public decimal? LengthM { get; init; }

    /// <summary>From the bus to the board, m; null: not known.</summary>
    public decimal? StubM { get; init; }
}

/// <summary>A resistor between the wires of a bus.</summary>
/// <param name="Name">The node that carries it.</param>
/// <param name="Removed">It went with the module.</param>
public sealed record Termination(string Name, decimal Ohm, bool Removed, Span Span);

/// <summary>The plug of the module.</summary>
public sealed record BenchConnector(string Type, IReadOnlyList<BenchPin> Pins);

/// <summary>A pin of the plug.</summary>
/// <param name="Name">As it is marked.</param>
/// <param name="SectionMm2">mm²; null: not known.</param>
/// <param name="Colour">Of the wire; empty: not known.</param>
/// <param name="Part">Name of the resistor, load or bus behind it; null: none.</param>
public sealed record BenchPin(string Name, string Signal, decimal? SectionMm2, string Colour, string? Part, Span Span);
