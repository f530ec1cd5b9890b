namespace Locum.Auditing;

/// <summary>What a receiver would object to. The order is that of reports where nothing else decides.</summary>
public enum FindingKind
{
    /// <summary>A frame that the description sends in every mode never came, or a whole module.</summary>
    NeverSent,

    /// <summary>Frames are missing while their module sent others.</summary>
    Missing,

    /// <summary>Two nodes send the identifier.</summary>
    TwoSenders,

    /// <summary>The first frame came too late.</summary>
    LateStart,

    /// <summary>The frame stopped before its modes ended.</summary>
    EarlyEnd,

    /// <summary>Another period.</summary>
    Period,

    /// <summary>Wrong number of bytes or wrong format.</summary>
    Shape,

    Checksum,

    Counter,

    /// <summary>A request or an event was not answered.</summary>
    AnswerMissing,

    AnswerLate,

    /// <summary>Another answer than described.</summary>
    AnswerWrong,

    /// <summary>A module stayed in a mode, left it, or sent in it, against its description.</summary>
    Mode,

    /// <summary>Bits that the description does not allow.</summary>
    Value,

    /// <summary>Payloads that are sent in turn came in another order.</summary>
    Turn,

    /// <summary>A value that ought to move, or moved in the original, stands still.</summary>
    Frozen,

    /// <summary>Frames early or late.</summary>
    Jitter,

    /// <summary>Errors on the bus at the frame.</summary>
    BusErrors,

    /// <summary>Another difference from the original.</summary>
    Original,
}
