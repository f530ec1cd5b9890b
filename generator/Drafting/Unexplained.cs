namespace Locum.Drafting;

/// <summary>Something that the draft does not describe as it was.</summary>
/// <param name="Subject">Name of the frame.</param>
/// <param name="Id">Its identifier.</param>
/// <param name="Bits">Where; empty for the whole frame.</param>
/// <param name="Why">What was seen and why nothing came of it.</param>
public sealed record Unexplained(string Subject, string Id, string Bits, string Why);
