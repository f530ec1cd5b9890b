namespace Locum.Inference.Starting;

/// <summary>A moment from which on the drafted identifiers are sent.</summary>
/// <param name="Part">Part of the recording.</param>
/// <param name="TimeUs">End of the first frame.</param>
/// <param name="SilenceUs">How long the bus was recorded without these identifiers before it.</param>
/// <param name="Seen">False when the module may have been sending before the recording began.</param>
/// <param name="UntilUs">The next start in the same part, or the end of the part.</param>
public readonly record struct ModuleStart(int Part, long TimeUs, long SilenceUs, bool Seen, long UntilUs);
