using Locum.Model;

namespace Locum.Auditing;

/// <summary>A frame in a capture that carries a counter.</summary>
/// <param name="Index">Its place among those of its frame.</param>
/// <param name="Surely">On every page that it can be.</param>
/// <param name="Field">The counter's field; null when its place is not known.</param>
/// <param name="Place">Steps from the counter's first value; null when it has none that the counter takes.</param>
internal readonly record struct Carrier(FrameTrack Track, Seen Seen, int Index, bool Surely, Field? Field, ulong? Place);
