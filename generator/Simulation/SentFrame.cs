using Locum.Wire;

namespace Locum.Simulation;

/// <summary>One frame on the wire. Times are microseconds since power-on.</summary>
/// <param name="Bus">Name of the bus.</param>
/// <param name="Sender">Module and frame, for example <c>cab-heat.HeaterStatus</c>; empty for other traffic.</param>
/// <param name="Id">Identifier.</param>
/// <param name="Data">Payload, one entry per byte, first byte on the wire first.</param>
/// <param name="AcceptedUs">When the controller took the frame for sending.</param>
/// <param name="StartUs">Start of SOF.</param>
/// <param name="EndUs">End of the last bit of EOF.</param>
public sealed record SentFrame(
    string Bus, string Sender, CanId Id, byte[] Data, long AcceptedUs, long StartUs, long EndUs)
{
    public FrameFormat Format { get; init; }
}
