using Locum.Model;
using Locum.Wire;

namespace Locum.Validation;

internal static class FrameTime
{
    /// <summary>Longest time on the wire with intermission, µs.</summary>
    public static long WorstUs(Frame frame, Bus bus) =>
        WireLength.Maximum(frame.Format, frame.Id.Extended, frame.Length).WithIntermission.TimeUs(bus.Rate, bus.DataRate);
}
