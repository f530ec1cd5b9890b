using Locum.Inference.Timing;

namespace Locum.Inference.Counting;

/// <summary>
/// Recognises counters that may number the segments of a longer message: the low nibble of a first byte whose high nibble
/// says "consecutive frame" (ISO 15765-2), in frames without a period.
/// </summary>
internal static class SequenceBytes
{
    private const int Consecutive = 2;

    /// <summary>True if the counter may be one.</summary>
    public static bool LooksLike(FrameFindings frame, CounterFinding counter) =>
        counter.Place is { Bit: 0, Bits: <= 4 } && frame.Sending.Kind is not SendingKind.Cyclic
        && Enumerable.Range(4, 4).All(b => !frame.Activity.Changes(b)) && frame.Payloads.Data(0)[0] >> 4 is Consecutive;
}
