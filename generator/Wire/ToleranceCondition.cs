namespace Locum.Wire;

/// <summary>A condition on the tolerance of the oscillators of a network.</summary>
/// <param name="Name">What would go wrong.</param>
/// <param name="Formula">As in the standard.</param>
/// <param name="Ppm">The largest tolerance that meets it, in either direction.</param>
public sealed record ToleranceCondition(string Name, string Formula, double Ppm);
