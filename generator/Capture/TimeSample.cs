namespace Locum.Capture;

/// <summary>A frame of the sample, for judging units of time.</summary>
/// <param name="Time">As written.</param>
/// <param name="Bus">Number of the bus.</param>
/// <param name="Key">Bus and identifier.</param>
/// <param name="Bits">Bits of the frame on the wire, at least.</param>
internal readonly record struct TimeSample(decimal Time, int Bus, ulong Key, int Bits);
