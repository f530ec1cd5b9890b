namespace Locum.Inference.Timing;

/// <summary>Frames of a series from where it began to send to where it fell silent or the capture broke.</summary>
/// <param name="First">Index of the first frame in the series.</param>
/// <param name="Count">Number of frames, at least 1.</param>
/// <param name="Part">Number of the part of the recording.</param>
/// <param name="ReleaseUs">When the first frame was probably released, as far as jitter lets it show; the frame's end on the wire included.</param>
public readonly record struct Stretch(int First, int Count, int Part, double ReleaseUs)
{
    /// <summary>Index behind the last frame.</summary>
    public int End => First + Count;
}
