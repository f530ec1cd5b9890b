using Locum.Inference;
using Locum.Wire;

namespace Locum.Comparing;

/// <summary>Identifiers that probably have one sender.</summary>
/// <param name="Letter">A, B, …</param>
/// <param name="Why">What speaks for it, for people.</param>
public sealed record SenderGroup(char Letter, string Bus, IReadOnlyList<CanId> Ids, string Why, Evidence Evidence);
