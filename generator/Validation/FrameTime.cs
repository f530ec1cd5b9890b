using Locum.Model;
using Locum.Wire;

namespace Locum.Validation;

internal static class FrameTime
{
    /// <summary>Longest time on the wire with intermission, µs.</summary>
    public static long WorstUs(Frame frame, int rate) =>
        FrameLength.TimeUs(FrameLength.MaximumBits(frame.Id.Extended, frame.Length) + FrameLength.IntermissionBits, rate);
}
