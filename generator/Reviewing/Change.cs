namespace Locum.Reviewing;

public enum ChangeKind
{
    Added,
    Removed,
    Renamed,
    Changed,
}

/// <summary>One difference in meaning.</summary>
/// <param name="Path">From the outside in, such as "module cab-heat", "frame HeatStatus", "field state".</param>
/// <param name="Label">What changed; empty when the thing as a whole came, went or has another name.</param>
/// <param name="Before">Null when there was nothing.</param>
/// <param name="After">Null when there is nothing any more.</param>
/// <param name="Hazard">It concerns a class of harm.</param>
public sealed record Change(ChangeKind Kind, IReadOnlyList<string> Path, string Label, string? Before, string? After, bool Hazard);
