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

/// <summary>A way out of a mode because of inputs.</summary>
/// <param name="When">All must hold.</param>
/// <param name="Then">Index of the mode that follows.</param>
public sealed record ModeExit(IReadOnlyList<InputCondition> When, int Then, Span Span);

/// <summary>A settled input level.</summary>
/// <param name="Input">Index in the module's list of inputs.</param>
public sealed record InputCondition(int Input, bool Active);
