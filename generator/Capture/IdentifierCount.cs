using Locum.Wire;

namespace Locum.Capture;

/// <summary>How often an identifier occurs on a bus.</summary>
/// <param name="Bus">Number of the bus.</param>
/// <param name="Id">The identifier.</param>
/// <param name="Frames">Data frames.</param>
/// <param name="Remotes">Remote frames.</param>
/// <param name="Shortest">Fewest data bytes.</param>
/// <param name="Longest">Most data bytes.</param>
/// <param name="FirstNs">Time of the first frame.</param>
/// <param name="LastNs">Time of the last frame.</param>
public sealed record IdentifierCount(int Bus, CanId Id, long Frames, long Remotes, int Shortest, int Longest, long FirstNs, long LastNs);
