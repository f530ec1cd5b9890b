using Locum.Text;

namespace Locum.Model;

/// <summary>A state of the module.</summary>
public sealed record Mode
{
    public required string Name { get; init; }

    /// <summary>Place in the module's list of modes.</summary>
    public required int Index { get; init; }

    /// <summary>How long the mode lasts by itself, µs; null for no limit.</summary>
    public long? ForUs { get; init; }

    /// <summary>The mode that follows when the time is over; null together with <see cref="ForUs"/>.</summary>
    public int? Then { get; init; }

    /// <summary>Tried in this order before the time.</summary>
    public required IReadOnlyList<ModeExit> Exits { get; init; }

    /// <summary>Nothing is sent and the board may sleep deeply.</summary>
    public bool Sleep { get; init; }

    public required Span Span { get; init; }
}

/// <summary>A way out of a mode.</summary>
/// <param name="When">All must hold.</param>
/// <param name="Then">Index of the mode that follows.</param>
public sealed record ModeExit(IReadOnlyList<Condition> When, int Then, Span Span);

/// <summary>Something that holds or does not hold in an instant.</summary>
public abstract record Condition;

/// <summary>A settled input level.</summary>
/// <param name="Input">Index in the module's list of inputs.</param>
public sealed record InputCondition(int Input, bool Active) : Condition;

/// <summary>A received frame is there, or lost.</summary>
/// <param name="Received">Index in the module's list of received frames.</param>
public sealed record ReceivedCondition(int Received, bool There) : Condition;

/// <summary>A received field's raw value; never holds while the frame is lost.</summary>
/// <param name="Received">Index in the module's list of received frames.</param>
/// <param name="Field">Index in its list of fields.</param>
/// <param name="Raw">The raw value to compare with, signed for signed fields.</param>
public sealed record FieldCondition(int Received, int Field, Comparison Comparison, long Raw) : Condition
{
    /// <summary>True if a raw value of the field meets the comparison.</summary>
    public bool HoldsFor(long value) => Comparison switch
    {
        Comparison.Equal => value == Raw,
        Comparison.NotEqual => value != Raw,
        Comparison.AtLeast => value >= Raw,
        _ => value < Raw,
    };
}

public enum Comparison
{
    Equal,
    NotEqual,
    AtLeast,
    Below,
}
