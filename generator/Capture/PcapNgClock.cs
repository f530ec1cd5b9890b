namespace Locum.Capture;

/// <summary>Turns the times of an interface into nanoseconds.</summary>
internal readonly struct PcapNgClock
{
    private const long NsPerSecond = 1_000_000_000;
    private const int PowerOfTwo = 0x80;
    private const int MostDecimals = 18;
    private const int MostBits = 62;

    private readonly long _perSecond;
    private readonly long _offsetSeconds;

    /// <param name="resolution">As in the option if_tsresol: a negative power of 10, or of 2 with the highest bit set.</param>
    /// <param name="offsetSeconds">As in the option if_tsoffset.</param>
    public PcapNgClock(byte resolution, long offsetSeconds)
    {
        int power = resolution & ~PowerOfTwo;
        bool binary = (resolution & PowerOfTwo) is not 0;
        IsUsable = power <= (binary ? MostBits : MostDecimals);
        _perSecond = 1;
        for (int i = 0; IsUsable && i < power; i++)
            _perSecond *= binary ? 2 : 10;
        _offsetSeconds = offsetSeconds;
    }

    /// <summary>Microseconds since 1970, as without options.</summary>
    public static PcapNgClock Usual => new(6, 0);

    /// <summary>False when the unit is finer than can be computed with.</summary>
    public bool IsUsable { get; }

    /// <summary>Nanoseconds; null when they are out of range (292 years).</summary>
    public long? Nanoseconds(ulong time)
    {
        if (_perSecond is 1_000_000 && _offsetSeconds is 0 && time <= long.MaxValue / 1000)
            return (long)time * 1000;
        if (!IsUsable)
            return null;
        var ns = ((Int128)time * NsPerSecond / _perSecond) + ((Int128)_offsetSeconds * NsPerSecond);
        return ns <= long.MaxValue && ns >= long.MinValue ? (long)ns : null;
    }
}
