namespace Locum.Inference.Checksums;

/// <summary>Why a search found nothing.</summary>
public enum NoChecksumReason
{
    /// <summary>Something was found.</summary>
    None,

    /// <summary>The frames carry no data.</summary>
    Empty,

    /// <summary>All payloads of each length are equal, so nothing can be told.</summary>
    NeverChanges,

    /// <summary>Too few different payloads to tell a rule from chance.</summary>
    TooFewPayloads,

    /// <summary>No byte or nibble is determined by the others as a checksum would be.</summary>
    NothingDependent,

    /// <summary>Some place behaves as a checksum does, but none of the rules tried explains it.</summary>
    NoRuleFits,
}
