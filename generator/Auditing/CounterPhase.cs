namespace Locum.Auditing;

/// <summary>How many frames a counter that takes several for a step can have seen since its last step: from the least to the most.</summary>
/// <param name="every">Frames for one step (rule 14).</param>
/// <param name="count">Values before the first one comes again.</param>
internal sealed class CounterPhase(ulong every, ulong count)
{
    private ulong _least;
    private ulong _most = every - 1;

    /// <summary>Nothing is known any more.</summary>
    public void Forget() => (_least, _most) = (0, every - 1);

    /// <summary>True if the counter can have moved so far (modulo its values) with so many frames; the phase is what is left then.</summary>
    public bool Move(ulong step, ulong leastFrames, ulong mostFrames)
    {
        var (low, high) = (_least + leastFrames, _most + mostFrames);
        if (high - low >= (every * count) - 1)
        {
            Forget();
            return true;
        }
        // The first run of values that begins at the step and does not end before the least.
        var steps = low / every;
        var from = (steps + ((step + count - (steps % count)) % count)) * every;
        if (from > high)
            return false;
        (_least, _most) = (Math.Max(low, from) - from, Math.Min(high, from + every - 1) - from);
        return true;
    }
}
