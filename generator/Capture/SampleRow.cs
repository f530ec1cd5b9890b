namespace Locum.Capture;

/// <summary>A line of the sample, cut into fields.</summary>
/// <param name="Line">The line.</param>
/// <param name="Fields">Its fields as text.</param>
internal sealed record SampleRow(SampleLine Line, string[] Fields);
