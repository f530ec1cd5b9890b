using Locum.Wire;

namespace Locum.Capture;

/// <summary>One entry of a capture; its payload travels beside it as a span.</summary>
/// <param name="TimeNs">Nanoseconds since the capture's own zero, whatever that is; may run backwards.</param>
/// <param name="Bus">Number of the bus, in the order in which the capture first names them.</param>
/// <param name="Id">Identifier without its kind; 0 for errors.</param>
/// <param name="Traits">Kind of frame.</param>
/// <param name="Length">Data bytes, 0 to 64; for remote frames the bytes asked for.</param>
public readonly record struct CaptureFrame(long TimeNs, int Bus, uint Id, FrameTraits Traits, byte Length)
{
    /// <summary>Identifier and its length.</summary>
    public CanId CanId => new(Id, (Traits & FrameTraits.Extended) != 0);

    /// <summary>True for frames that carry data: neither remote frames nor errors.</summary>
    public bool IsData => (Traits & (FrameTraits.Remote | FrameTraits.Error)) == 0;

    /// <summary>How the frame is laid out on the wire.</summary>
    public FrameFormat Format =>
        (Traits & FrameTraits.Fd) == 0 ? FrameFormat.Classic
        : (Traits & FrameTraits.RateSwitched) == 0 ? FrameFormat.Fd
        : FrameFormat.FdSwitched;
}
