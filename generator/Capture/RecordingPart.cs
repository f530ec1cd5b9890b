namespace Locum.Capture;

/// <summary>A stretch of a recording without a break in time, and the bus traffic around it.</summary>
/// <param name="StartUs">Time of its first entry.</param>
/// <param name="EndUs">Time of its last entry.</param>
/// <param name="Frames">Data frames in it, on all buses.</param>
public readonly record struct RecordingPart(long StartUs, long EndUs, long Frames)
{
    /// <summary>Microseconds from the first to the last entry.</summary>
    public long DurationUs => EndUs - StartUs;
}
