namespace Locum.Drafting;

/// <summary>What a draft needs to know beside the recording.</summary>
public sealed record DraftOptions
{
    /// <summary>Name of the module.</summary>
    public required string Name { get; init; }

    /// <summary>Where the frames come from, for the first line.</summary>
    public required string Source { get; init; }

    /// <summary>Bit rate of the buses, bit/s; null when nobody said.</summary>
    public int? Rate { get; init; }
}
