namespace Locum.Inference.Timing;

/// <summary>How a frame is sent.</summary>
public enum SendingKind
{
    /// <summary>By period, perhaps with a fast beginning or single frames between.</summary>
    Cyclic,

    /// <summary>By several periods in turn, each for a while.</summary>
    SeveralPeriods,

    /// <summary>Without a period.</summary>
    Events,

    /// <summary>Too few frames to tell: one, or a few close together.</summary>
    Rare,
}
