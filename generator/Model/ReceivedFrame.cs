using Locum.Text;
using Locum.Wire;

namespace Locum.Model;

/// <summary>A frame of another node that the module listens to.</summary>
public sealed record ReceivedFrame
{
    public required string Name { get; init; }

    /// <summary>Index in the module's list of buses.</summary>
    public required int Bus { get; init; }

    public required CanId Id { get; init; }

    /// <summary>Identifier bits that must match; 0 listens to every frame of this identifier length.</summary>
    public required uint Mask { get; init; }

    /// <summary>Data bytes that a frame must have at least, so that every field can be read.</summary>
    public required int Length { get; init; }

    /// <summary>A frame is lost this long after its last reception, µs; null: never.</summary>
    public required long? TimeoutUs { get; init; }

    public required IReadOnlyList<Field> Fields { get; init; }

    public required Span Span { get; init; }

    /// <summary>True if a frame with this identifier and length counts as a reception.</summary>
    public bool Matches(CanId id, int length) => id.Extended == Id.Extended && ((id.Value ^ Id.Value) & Mask) is 0 && length >= Length;
}
