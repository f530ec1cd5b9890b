using Locum.Text;
using Locum.Wire;

namespace Locum.Model;

/// <summary>A cyclic frame.</summary>
public sealed record Frame
{
    public required string Name { get; init; }

    /// <summary>Index in the module's list of buses; -1 (after a finding) when it has no such bus.</summary>
    public required int Bus { get; init; }

    public required CanId Id { get; init; }

    public FrameFormat Format { get; init; }

    /// <summary>Data bytes: 0..8, or a length that CAN FD has.</summary>
    public required int Length { get; init; }

    public required long PeriodUs { get; init; }

    public required long OffsetUs { get; init; }

    /// <summary>Indexes of the modes in which the frame is sent, rising.</summary>
    public required IReadOnlyList<int> Modes { get; init; }

    /// <summary>Payload before any field is written; as long as the frame.</summary>
    public required byte[] Base { get; init; }

    public required IReadOnlyList<Field> Fields { get; init; }

    public required Span Span { get; init; }

    public required Span IdSpan { get; init; }
}
