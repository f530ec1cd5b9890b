namespace Locum.Inference.Counting;

/// <summary>A counter in a payload.</summary>
public sealed record CounterFinding
{
    /// <summary>Where it lies.</summary>
    public required FieldPlace Place { get; init; }

    /// <summary>How it counts.</summary>
    public required CounterRule Rule { get; init; }

    /// <summary>Frames from one step to the next.</summary>
    public int Every { get; init; } = 1;

    /// <summary>Steps tested.</summary>
    public required Evidence Evidence { get; init; }

    /// <summary>Rounds seen to their end; with 0 the last value is a guess and the width may be larger.</summary>
    public required int Rounds { get; init; }

    /// <summary>A field of the same frame that moves with it, so that one of the two may be a function of the other.</summary>
    public FieldPlace? MovesWith { get; init; }

    /// <summary>It may number the segments of a longer message.</summary>
    public bool IsSequence { get; init; }

    /// <summary>How sure it is.</summary>
    public Confidence Confidence =>
        MovesWith is not null || IsSequence ? Confidence.Possible
        : Rounds is 0 ? Evidence.Confidence.AtMost(Confidence.Likely)
        : Evidence.Confidence;
}
