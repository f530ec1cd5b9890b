namespace Locum.Capture;

/// <summary>What a capture holds of one bus.</summary>
/// <param name="Name">As the capture calls it.</param>
/// <param name="Frames">Data frames.</param>
/// <param name="Remotes">Remote frames.</param>
/// <param name="Errors">Errors.</param>
public sealed record BusCount(string Name, long Frames, long Remotes, long Errors);
