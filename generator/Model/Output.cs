using Locum.Text;

namespace Locum.Model;

/// <summary>A pin that switches something: a dummy load, a sync line (rules O1 to O5).</summary>
public sealed record Output
{
    public required string Name { get; init; }

    /// <summary>True when the pin is high while the output is on.</summary>
    public required bool ActiveHigh { get; init; }

    /// <summary>Indexes of the modes in which it is wanted.</summary>
    public required IReadOnlyList<int> Modes { get; init; }

    /// <summary>Besides, all conditions of one of these must hold; empty: no more is asked.</summary>
    public required IReadOnlyList<IReadOnlyList<Condition>> While { get; init; }

    /// <summary>From being wanted to being on, µs.</summary>
    public required long AfterUs { get; init; }

    /// <summary>How long it is on at most, µs; null: as long as it is wanted.</summary>
    public long? ForUs { get; init; }

    /// <summary>From power-on to being on for the first time, µs, when nothing else holds it up; null: any time.</summary>
    public long? WithinUs { get; init; }

    public required Span Span { get; init; }
}
