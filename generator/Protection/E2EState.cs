namespace Locum.Protection;

/// <summary>What a receiver's state machine thinks of a protected frame as a whole.</summary>
public enum E2EState
{
    /// <summary>Nothing usable has come yet.</summary>
    NoData,

    /// <summary>Something came; not enough to trust it.</summary>
    Init,

    /// <summary>The data is used.</summary>
    Valid,

    /// <summary>The data is not used, and the receiver complains.</summary>
    Invalid,
}
