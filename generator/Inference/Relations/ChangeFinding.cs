namespace Locum.Inference.Relations;

/// <summary>Whether frames without a period are sent because something in them changed.</summary>
/// <param name="Places">The fields that changed in most of them.</param>
/// <param name="Evidence">Frames without a period, and those that bring a change; by chance they would be as rare as among the others.</param>
public sealed record ChangeFinding(IReadOnlyList<FieldPlace> Places, Evidence Evidence);
