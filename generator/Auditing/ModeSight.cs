namespace Locum.Auditing;

/// <summary>What one frame says about its module's mode. Times in µs.</summary>
/// <param name="FromUs">The earliest time it can speak of.</param>
/// <param name="UntilUs">The latest.</param>
/// <param name="Modes">Modes in which it can have been composed, as a set of bits.</param>
/// <param name="SinceUs">The module has been in the frame's modes since then at least.</param>
/// <param name="Frame">The frame.</param>
/// <param name="Seen">Its place among those of the frame.</param>
internal readonly record struct ModeSight(long FromUs, long UntilUs, ulong Modes, long SinceUs, FrameTrack Frame, int Seen);
