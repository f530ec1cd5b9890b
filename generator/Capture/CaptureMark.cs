namespace Locum.Capture;

/// <summary>Something on a bus that carries no payload: an error or a remote frame.</summary>
/// <param name="Bus">Number of the bus.</param>
/// <param name="TimeUs">When.</param>
/// <param name="Order">Number of the entry in the recording, from 0.</param>
/// <param name="Frame">The entry as captured.</param>
public readonly record struct CaptureMark(int Bus, long TimeUs, int Order, CaptureFrame Frame);
