namespace Locum.Budgeting;

/// <summary>Where the least distance of a stream's releases comes from.</summary>
public enum StreamBasis
{
    /// <summary>A period, burst, gap or spacing of the description.</summary>
    Described,

    /// <summary>Nothing bounds the events: a distance is assumed.</summary>
    Assumed,

    /// <summary>Mean distance and earliness of the frames in a capture.</summary>
    Seen,
}
