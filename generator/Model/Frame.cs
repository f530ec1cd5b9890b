using Locum.Text;
using Locum.Wire;

namespace Locum.Model;

/// <summary>A frame that the module sent: by period, by events, or both.</summary>
public sealed record Frame
{
    public required string Name { get; init; }

    /// <summary>Index in the module's list of buses; -1 (after a finding) when it has no such bus.</summary>
    public required int Bus { get; init; }

    public required CanId Id { get; init; }

    public FrameFormat Format { get; init; }

    /// <summary>Data bytes: 0..8, or a length that CAN FD has.</summary>
    public required int Length { get; init; }

    /// <summary>Distance between releases, µs; the longest where it differs by mode; 0 when only events send the frame.</summary>
    public required long PeriodUs { get; init; }

    /// <summary>Periods by mode index where they differ; otherwise empty.</summary>
    public IReadOnlyDictionary<int, long> PeriodByMode { get; init; } = new Dictionary<int, long>();

    public Burst? Burst { get; init; }

    /// <summary>Null when only the period sends the frame.</summary>
    public Events? Events { get; init; }

    /// <summary>Payloads sent in turn, each with fields besides the frame's own; empty or at least two.</summary>
    public IReadOnlyList<Page> Pages { get; init; } = [];

    /// <summary>After the last page it is sent again and again; otherwise the first follows.</summary>
    public bool HoldLastPage { get; init; }

    public required long OffsetUs { get; init; }

    /// <summary>Indexes of the modes in which the frame is sent, rising.</summary>
    public required IReadOnlyList<int> Modes { get; init; }

    /// <summary>Payload before any field is written; as long as the frame.</summary>
    public required byte[] Base { get; init; }

    public required IReadOnlyList<Field> Fields { get; init; }

    /// <summary>A channel fills the frame with its answers.</summary>
    public bool IsAnswer { get; init; }

    /// <summary>All frames of a node go in this row; the identifier is that of its Address Claimed.</summary>
    public bool IsNode { get; init; }

    public required Span Span { get; init; }

    public required Span IdSpan { get; init; }

    /// <summary>False where a channel or a node composes the payload.</summary>
    public bool IsDescribed => !IsAnswer && !IsNode;

    public bool IsCyclic => PeriodUs > 0;

    /// <summary>The period in a mode, µs.</summary>
    public long PeriodIn(int mode) => PeriodByMode.TryGetValue(mode, out var period) ? period : PeriodUs;

    /// <summary>The shortest distance between two cyclic releases, µs; 0 when not cyclic.</summary>
    public long ShortestPeriodUs => PeriodByMode.Values.Append(PeriodUs).Append(Burst?.PeriodUs ?? long.MaxValue).Min();

    /// <summary>How many of the fields, the last ones, were added by end-to-end protection; they stay behind those of a page.</summary>
    public int ProtectionFields { get; init; }

    /// <summary>The end-to-end protection behind these fields; null for none.</summary>
    public FrameProtection? Protection { get; init; }

    /// <summary>The frame with each of its pages as its only payload; the frame itself when it has no pages.</summary>
    public IReadOnlyList<Frame> Variants => Pages.Count is 0 ? [this]
        : [.. Pages.Select(p => this with { Base = p.Base, Fields = [.. Fields.SkipLast(ProtectionFields), .. p.Fields, .. Fields.TakeLast(ProtectionFields)], Pages = [] })];

    /// <summary>The frame's own fields and those of all its pages.</summary>
    public IEnumerable<Field> AllFields => Fields.Concat(Pages.SelectMany(p => p.Fields));
}

/// <summary>End-to-end protection by an AUTOSAR profile.</summary>
/// <param name="Profile">Number and variant of the profile, as in descriptions.</param>
/// <param name="Ids">One data ID, or the profile's list of 16.</param>
/// <param name="Offset">Bytes in front of the profile's header.</param>
public sealed record FrameProtection(string Profile, IReadOnlyList<uint> Ids, int Offset, Span Span);
