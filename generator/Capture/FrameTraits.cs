namespace Locum.Capture;

/// <summary>What a capture says of a frame beside identifier and payload.</summary>
[Flags]
public enum FrameTraits : byte
{
    /// <summary>A classic data frame with an 11-bit identifier.</summary>
    None = 0,

    /// <summary>29-bit identifier.</summary>
    Extended = 1,

    /// <summary>CAN FD.</summary>
    Fd = 2,

    /// <summary>CAN FD that switches to the data rate (BRS).</summary>
    RateSwitched = 4,

    /// <summary>CAN FD sent by an error-passive node (ESI).</summary>
    ErrorPassive = 8,

    /// <summary>Remote frame: a length, but no payload.</summary>
    Remote = 16,

    /// <summary>No frame of a node but an error that the capturing controller saw.</summary>
    Error = 32,
}
