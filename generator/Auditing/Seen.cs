namespace Locum.Auditing;

/// <summary>One frame in a capture. Times in µs.</summary>
/// <param name="Index">Its index in the series of its identifier.</param>
/// <param name="StartUs">Start of the frame.</param>
/// <param name="ReleasedUs">The earliest time at which it can have been released: the begin of the uninterrupted traffic that it ends.</param>
/// <param name="FromUs">The earliest time at which it can have been composed: not before the one before it had left (rule 11).</param>
/// <param name="UntilUs">The latest time for both.</param>
internal readonly record struct Seen(int Index, long StartUs, long ReleasedUs, long FromUs, long UntilUs);
