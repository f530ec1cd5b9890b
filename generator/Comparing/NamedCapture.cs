using Locum.Capture;

namespace Locum.Comparing;

/// <summary>A capture with its name.</summary>
/// <param name="Path">As the user gave it.</param>
public sealed record NamedCapture(string Path, Recording Recording);
