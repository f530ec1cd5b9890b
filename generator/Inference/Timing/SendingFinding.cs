namespace Locum.Inference.Timing;

/// <summary>When a series' frames come.</summary>
public sealed record SendingFinding
{
    /// <summary>How they are sent.</summary>
    public required SendingKind Kind { get; init; }

    /// <summary>The period it was probably meant to have, microseconds; 0 without one.</summary>
    public long NominalUs { get; init; }

    /// <summary>The period by the logger's clock, microseconds.</summary>
    public double MeanUs { get; init; }

    /// <summary>Half the range in which 95 of 100 frames lie around their even places, microseconds.</summary>
    public double JitterUs { get; init; }

    /// <summary>Distances tested against the period.</summary>
    public Evidence Evidence { get; init; }

    /// <summary>Frames missing between others.</summary>
    public int Missing { get; init; }

    /// <summary>Frames between the even places.</summary>
    public int Extra { get; init; }

    /// <summary>Indexes of the first of those frames in the series.</summary>
    public IReadOnlyList<int> Extras { get; init; } = [];

    /// <summary>Frames that come fast at every start; 0 without a fast beginning.</summary>
    public int BurstCount { get; init; }

    /// <summary>Their distance, microseconds.</summary>
    public long BurstUs { get; init; }

    /// <summary>Starts that begin so, of those that could.</summary>
    public Evidence BurstEvidence { get; init; }

    /// <summary>Further periods.</summary>
    public IReadOnlyList<OtherPeriod> Others { get; init; } = [];

    /// <summary>The period is known by the number of frames only: time stamps are too coarse for single distances.</summary>
    public bool ByNumber { get; init; }

    /// <summary>Where sending began and ended. Never empty.</summary>
    public required IReadOnlyList<Stretch> Stretches { get; init; }

    /// <summary>
    /// Of each frame how many periods it lies behind the one before; 0 at the start of a stretch, 1 where no period tells.
    /// </summary>
    public required byte[] Steps { get; init; }

    /// <summary>How sure the period is; by number alone at most likely.</summary>
    public Confidence Confidence => ByNumber ? Evidence.Confidence.AtMost(Confidence.Likely) : Evidence.Confidence;

    /// <summary>True when the period alone describes the sending.</summary>
    public bool IsCyclic => Kind is SendingKind.Cyclic;
}
