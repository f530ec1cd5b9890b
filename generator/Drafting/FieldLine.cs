using Locum.Inference;

namespace Locum.Drafting;

/// <summary>A field of a drafted frame.</summary>
/// <param name="Place">Where it lies.</param>
/// <param name="Name">Its name.</param>
/// <param name="Text">Its value in plain YAML.</param>
/// <param name="Comment">What is said about it.</param>
internal sealed record FieldLine(FieldPlace Place, string Name, string Text, string Comment);
