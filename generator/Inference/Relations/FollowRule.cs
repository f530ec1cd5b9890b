namespace Locum.Inference.Relations;

/// <summary>How a field depends on another one's raw value: round(gain · x + add), half away from zero, within limits.</summary>
/// <param name="Gain">Factor.</param>
/// <param name="Add">Addend.</param>
/// <param name="Delay">Releases by which it is late.</param>
/// <param name="AtLeast">Lower limit.</param>
/// <param name="AtMost">Upper limit.</param>
public readonly record struct FollowRule(decimal Gain, decimal Add, int Delay, long? AtLeast = null, long? AtMost = null)
{
    /// <summary>The same number, only later perhaps.</summary>
    public bool IsEcho => Gain is 1 && Add is 0;

    /// <summary>The value that the rule gives.</summary>
    public long Apply(ulong raw)
    {
        decimal value = Math.Round((raw * Gain) + Add, MidpointRounding.AwayFromZero);
        if (AtLeast is { } low && value < low)
            return low;
        return AtMost is { } high && value > high ? high : (long)value;
    }
}
