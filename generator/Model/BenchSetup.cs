using Locum.Text;

namespace Locum.Model;

/// <summary>What is built around the board for the bench and the vehicle: resistors, loads, supply, bus wiring, connector.</summary>
public sealed record BenchSetup
{
    /// <summary>Air around the parts, °C.</summary>
    public required decimal AmbientC { get; init; }

    public required BenchSupply Supply { get; init; }

    public required IReadOnlyList<BenchResistor> Resistors { get; init; }

    public required IReadOnlyList<BenchLoad> Loads { get; init; }

    public HoldUp? HoldUp { get; init; }

    public required IReadOnlyList<BenchBus> Buses { get; init; }

    public BenchConnector? Connector { get; init; }

    public required Span Span { get; init; }
}

/// <summary>The supply, V: lowest, highest, and the one at which currents are stated.</summary>
public sealed record BenchSupply(decimal FromV, decimal ToV, decimal NominalV, Span Span);

/// <summary>A resistor that stands in for a part whose resistance is watched.</summary>
public sealed record BenchResistor
{
    public required string Name { get; init; }

    /// <summary>The watching circuit accepts resistances from this one, ohm.</summary>
    public required decimal AtLeastOhm { get; init; }

    /// <summary>… to this one, ohm.</summary>
    public required decimal AtMostOhm { get; init; }

    /// <summary>Tolerance of the parts, %.</summary>
    public required decimal TolerancePercent { get; init; }

    /// <summary>Values per decade (IEC 60063).</summary>
    public required int Series { get; init; }

    /// <summary>Steady current, A; null: not known.</summary>
    public decimal? CurrentA { get; init; }

    /// <summary>Steady voltage, V; null: not known.</summary>
    public decimal? VoltageV { get; init; }

    public ResistorPulse? Pulse { get; init; }

    /// <summary>Rated power is allowed up to this ambient, °C.</summary>
    public required decimal FullToC { get; init; }

    /// <summary>None is allowed from this ambient on, °C; linear between them.</summary>
    public required decimal ZeroAtC { get; init; }

    public required Span Span { get; init; }
}

/// <summary>A current that comes again and again.</summary>
/// <param name="CurrentA">A.</param>
/// <param name="ForUs">How long it flows, µs.</param>
/// <param name="EveryUs">From one to the next, µs.</param>
public sealed record ResistorPulse(decimal CurrentA, long ForUs, long EveryUs, Span Span);

/// <summary>A load whose current is watched, in stages from being switched on.</summary>
public sealed record BenchLoad
{
    public required string Name { get; init; }

    public required LoadKind Kind { get; init; }

    /// <summary>In order of time; the first at 0.</summary>
    public required IReadOnlyList<LoadStage> Stages { get; init; }

    /// <summary>Switched off after this time, µs; null: stays on.</summary>
    public long? ForUs { get; init; }

    /// <summary>Least distance of two starts, µs; null: not known.</summary>
    public long? EveryUs { get; init; }

    /// <summary>Current of the cold or standing original, in times of the first stage's.</summary>
    public required decimal InrushTimes { get; init; }

    /// <summary>When the inrush has come within 5 % of the first stage's current, µs.</summary>
    public required long SettlesUs { get; init; }

    public BenchWire? Wire { get; init; }

    public required Span Span { get; init; }
}

public enum LoadKind
{
    Resistor,

    /// <summary>Its current is many times higher while it is cold.</summary>
    Filament,

    /// <summary>Its current is several times higher while it stands.</summary>
    Motor,
}

/// <summary>A current from a time on.</summary>
/// <param name="AtUs">From switching on, µs.</param>
/// <param name="CurrentA">At the nominal supply, A.</param>
public sealed record LoadStage(long AtUs, decimal CurrentA, Span Span);

/// <summary>Copper wire, there and back.</summary>
/// <param name="LengthM">One way, m.</param>
/// <param name="SectionMm2">mm².</param>
public sealed record BenchWire(decimal LengthM, decimal SectionMm2, Span Span);
