namespace Locum.Rendering;

/// <summary>A file of a firmware project, in memory.</summary>
/// <param name="Path">Relative to the project's folder, with '/' between folders.</param>
public sealed record OutputFile(string Path, string Text);
