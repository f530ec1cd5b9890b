using Locum.Capture;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Traces;

/// <summary>Simulated frames as entries of a capture.</summary>
public static class SentFrames
{
    private const long NsPerUs = 1000;

    /// <summary>Hands frames to a sink, stamped at their ends.</summary>
    /// <param name="sink">Takes them.</param>
    /// <param name="buses">Names of all buses.</param>
    /// <param name="frames">Frames of these buses, in the order given.</param>
    public static void Deliver(IBusSink sink, IReadOnlyList<string> buses, IEnumerable<SentFrame> frames)
    {
        for (int i = 0; i < buses.Count; i++)
            sink.Bus(i, buses[i]);
        foreach (var frame in frames)
        {
            var traits = (frame.Id.Extended ? FrameTraits.Extended : FrameTraits.None) | frame.Format switch
            {
                FrameFormat.Fd => FrameTraits.Fd,
                FrameFormat.FdSwitched => FrameTraits.Fd | FrameTraits.RateSwitched,
                _ => FrameTraits.None,
            };
            int bus = buses.TakeWhile(b => b != frame.Bus).Count();
            sink.Take(new CaptureFrame(frame.EndUs * NsPerUs, bus, frame.Id.Value, traits, (byte)frame.Data.Length), frame.Data);
        }
    }
}
