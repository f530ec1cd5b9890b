namespace Locum.Capture;

/// <summary>What became of the line or packet in which something odd was found.</summary>
public enum OddityEffect
{
    /// <summary>Its frame was taken, mended where the oddity says so.</summary>
    Kept,

    /// <summary>It gave no frame.</summary>
    LeftOut,

    /// <summary>It was no line or packet but something between them.</summary>
    Beside,
}
