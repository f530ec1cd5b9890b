namespace Locum.Wire;

/// <summary>How a data frame is laid out on the wire.</summary>
public enum FrameFormat
{
    /// <summary>Classic CAN: up to 8 bytes.</summary>
    Classic,

    /// <summary>CAN FD at one bit rate: up to 64 bytes, BRS bit dominant.</summary>
    Fd,

    /// <summary>CAN FD that switches to the bus' data rate behind the BRS bit.</summary>
    FdSwitched,
}

/// <summary>Words for formats in outputs.</summary>
public static class FormatWords
{
    /// <summary>classic, fd or fd-switched.</summary>
    public static string Of(FrameFormat format) => format switch
    {
        FrameFormat.Classic => "classic",
        FrameFormat.Fd => "fd",
        FrameFormat.FdSwitched => "fd-switched",
        _ => throw new ArgumentOutOfRangeException(nameof(format)),
    };
}
