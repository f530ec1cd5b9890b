namespace Locum.Auditing;

/// <summary>A while in which releases of a frame are missing, µs.</summary>
/// <param name="FromUs">When the first one was due.</param>
/// <param name="UntilUs">The next frame, or the end of the while in which it was expected.</param>
/// <param name="Missed">How many are missing, at least 1.</param>
/// <param name="AtEnd">No frame follows in that while.</param>
/// <param name="AtStart">None came before in that while.</param>
internal readonly record struct Gap(long FromUs, long UntilUs, int Missed, bool AtEnd, bool AtStart);
