namespace Locum.Capture;

/// <summary>Frames of a series between two breaks of the capture's time; times inside do not run backwards.</summary>
/// <param name="First">Index of the first frame in its series.</param>
/// <param name="Count">Number of frames, at least 1.</param>
/// <param name="Part">Number of the part of the recording (<see cref="Recording.Parts"/>).</param>
public readonly record struct Run(int First, int Count, int Part)
{
    /// <summary>Index behind the last frame.</summary>
    public int End => First + Count;
}
