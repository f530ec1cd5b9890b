namespace Locum.Diagnostics;

/// <summary>A stable kind of finding. Numbers are never reused.</summary>
/// <param name="Id">For example LC0203.</param>
/// <param name="Severity">How much it matters.</param>
/// <param name="Title">A few words, the same for every finding of this kind.</param>
/// <param name="Help">Why it matters, in a sentence or two.</param>
public sealed record Code(string Id, Severity Severity, string Title, string Help);
