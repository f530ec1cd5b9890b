using Locum.Capture;

namespace Locum.Inference.Relations;

/// <summary>A field that follows another identifier's field.</summary>
public sealed record FollowFinding
{
    /// <summary>The field that follows.</summary>
    public required FieldPlace Place { get; init; }

    /// <summary>The frames that are followed.</summary>
    public required FrameSeries Source { get; init; }

    /// <summary>The field that is followed.</summary>
    public required FieldPlace From { get; init; }

    /// <summary>How.</summary>
    public required FollowRule Rule { get; init; }

    /// <summary>The value while the source is silent or was not heard yet; null when that was not seen.</summary>
    public ulong? Lost { get; init; }

    /// <summary>After how long a silence of the source it counts as lost, microseconds; null when that was not seen.</summary>
    public long? TimeoutUs { get; init; }

    /// <summary>Changes of the field, or of what it follows, against the rule.</summary>
    public required Evidence Evidence { get; init; }

    /// <summary>Other fields that explain it as well.</summary>
    public int Others { get; init; }

    /// <summary>The field moves evenly with time, so that anything else that does seems to be followed.</summary>
    public bool Steady { get; init; }

    /// <summary>How sure it is.</summary>
    public Confidence Confidence => Steady ? Confidence.Possible : Others > 0 ? Evidence.Confidence.AtMost(Confidence.Likely) : Evidence.Confidence;
}
