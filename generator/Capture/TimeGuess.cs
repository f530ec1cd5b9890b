using Locum.Model;

namespace Locum.Capture;

/// <summary>What unit the times of a table have.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Sure">Certain, likely or a guess.</param>
/// <param name="Reason">Why.</param>
internal sealed record TimeGuess(TimeUnit Unit, string Sure, string Reason);
