namespace Locum.Inference.Transport;

/// <summary>Frames that look like segments of longer messages; what they carry is no field of a frame.</summary>
/// <param name="What">Which protocol it looks like, for people.</param>
/// <param name="Frames">Frames looked at.</param>
/// <param name="Messages">Complete messages of several frames.</param>
public sealed record TransportFinding(string What, int Frames, int Messages);
