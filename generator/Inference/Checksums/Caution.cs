namespace Locum.Inference.Checksums;

/// <summary>A reason to trust a finding less, or something it leaves open.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Text">A sentence for people.</param>
public sealed record Caution(CautionKind Kind, string Text);

/// <summary>Kinds of <see cref="Caution"/>.</summary>
public enum CautionKind
{
    /// <summary>Few different payloads were seen; at most possible.</summary>
    FewPayloads,

    /// <summary>The value follows a single other byte, as two counters that move together do; at most possible.</summary>
    FollowsOneByte,

    /// <summary>The value itself steps evenly, as a counter does; at most possible.</summary>
    Counts,

    /// <summary>The frames carry segments of a transport protocol; at most possible.</summary>
    Transport,

    /// <summary>Another rule that is not equivalent fits as well; at most likely.</summary>
    OtherRulesFit,

    /// <summary>Bits that change make no difference to a plain sum or XOR; at most likely.</summary>
    PartlyCovered,

    /// <summary>A polynomial outside the catalogue that repeats itself within the payload; at most likely.</summary>
    ShortPeriod,

    /// <summary>Some frames contradict; at most likely.</summary>
    Contradicted,

    /// <summary>Bytes that never change: whether they are covered is open, the bytes sent are the same.</summary>
    UnseenBytes,

    /// <summary>The constant was solved for: other start and final values give the same bytes at this length.</summary>
    SolvedConstant,

    /// <summary>Several data IDs give the same bytes at this length.</summary>
    DataIdOpen,

    /// <summary>The secret of some counter values was never seen.</summary>
    SecretOpen,
}
