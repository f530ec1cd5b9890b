using Locum.Capture;
using Locum.Inference.Checksums;
using Locum.Inference.Counting;
using Locum.Inference.Paging;
using Locum.Inference.Payload;
using Locum.Inference.Relations;
using Locum.Inference.Timing;
using Locum.Inference.Transport;
using Locum.Inference.Values;
using Locum.Wire;

namespace Locum.Inference;

/// <summary>All that was found out about the frames of one identifier.</summary>
public sealed record FrameFindings
{
    /// <summary>The frames.</summary>
    public required FrameSeries Series { get; init; }

    /// <summary>Those of the usual length.</summary>
    public required Payloads Payloads { get; init; }

    /// <summary>Their bits.</summary>
    public required BitActivity Activity { get; init; }

    /// <summary>When they come.</summary>
    public required SendingFinding Sending { get; init; }

    /// <summary>What longer messages they seem to carry; then nothing was looked for inside.</summary>
    public TransportFinding? Transport { get; init; }

    /// <summary>Counters, by place.</summary>
    public IReadOnlyList<CounterFinding> Counters { get; init; } = [];

    /// <summary>Checksums that go into the description.</summary>
    public IReadOnlyList<ChecksumFinding> Checksums { get; init; } = [];

    /// <summary>Places that behave as checksums although no rule explains them.</summary>
    public IReadOnlyList<FieldPlace> Suspects { get; init; } = [];

    /// <summary>Payloads in turn; null when there are none.</summary>
    public PageFinding? Pages { get; init; }

    /// <summary>Fields that follow others.</summary>
    public IReadOnlyList<FollowFinding> Follows { get; init; } = [];

    /// <summary>What else changes.</summary>
    public IReadOnlyList<ValueFinding> Values { get; init; } = [];

    /// <summary>What these frames answer; null when nothing.</summary>
    public AnswerFinding? Answer { get; init; }

    /// <summary>Changes that send frames beside the period or without one; null when none is known to.</summary>
    public ChangeFinding? Change { get; init; }

    /// <summary>The stretch that belongs to the module's start.</summary>
    public Stretch First { get; init; }

    /// <summary>From the module's start to the first release of that stretch, microseconds.</summary>
    public double OffsetUs { get; init; }

    /// <summary>Number, among the frames of the usual length, of the first one of that stretch.</summary>
    public int FirstFrame { get; init; }

    /// <summary>The layout on the wire of the frames of the usual length.</summary>
    public FrameFormat Format => Series.Format(Payloads.Index(0));

    /// <summary>Frames of the usual length among all.</summary>
    public Evidence LengthEvidence => new(Series.Count, Payloads.Count, 1, Chance.Log10Tail(Series.Count - 1, Payloads.Count - 1, 0.5));

    /// <summary>Bits of the usual length that never change.</summary>
    public int ConstantBits => Enumerable.Range(0, Activity.Bits).Count(b => !Activity.Changes(b));
}
