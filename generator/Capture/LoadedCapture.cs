namespace Locum.Capture;

/// <summary>A capture in memory.</summary>
/// <param name="Path">Path as the user gave it.</param>
/// <param name="Recording">Its frames.</param>
/// <param name="Summary">What was read, and what was odd.</param>
public sealed record LoadedCapture(string Path, Recording Recording, CaptureSummary Summary);
