namespace Locum.Capture;

/// <summary>A line of the sample by which a text is recognised.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Bytes">The line without its end.</param>
internal sealed record SampleLine(long Number, byte[] Bytes);
