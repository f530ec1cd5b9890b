using Locum.Model;

namespace Locum.Simulation;

/// <summary>A field that moves with its frame's releases (rule 28).</summary>
internal sealed class LiveState(Field place, Live live)
{
    private readonly Queue<long> _delayed = [];
    private uint _noise = (live as Noise)?.Seed ?? 0;
    private long _releases;
    private long _value;

    /// <summary>The raw value, masked to the field.</summary>
    public ulong Raw => (ulong)_value & ((1UL << place.Bits) - 1);

    public void Start()
    {
        _releases = 0;
        _delayed.Clear();
    }

    public void Release(IReadOnlyList<ReceivedState> receives)
    {
        _value = live switch
        {
            Ramp ramp => OnRamp(ramp),
            Noise noise => NextNoise(noise),
            Lag lag => NextLag(lag, receives),
            _ => throw new InvalidOperationException("unknown live value"),
        };
        _releases++;
    }

    private long OnRamp(Ramp ramp)
    {
        var step = ramp.End switch
        {
            RampEnd.Hold => Math.Min(_releases, ramp.Steps),
            RampEnd.Repeat => _releases % ramp.Steps,
            _ => ramp.Steps - Math.Abs(ramp.Steps - (_releases % (2 * ramp.Steps))),
        };
        return ramp.From + (long)Rounding.HalfAway((ramp.To - ramp.From) * step, ramp.Steps);
    }

    private long NextNoise(Noise noise)
    {
        _noise ^= _noise << 13;
        _noise ^= _noise >> 17;
        _noise ^= _noise << 5;
        return noise.Centre - noise.Span + (_noise % (uint)((2 * noise.Span) + 1));
    }

    private long NextLag(Lag lag, IReadOnlyList<ReceivedState> receives)
    {
        var lost = place.WithSign(lag.Follow.Lost);
        var target = receives[lag.Follow.Received].Value(lag.Follow.Field) is { } raw ? Composer.Followed(lag.Follow, raw) : lost;
        if (lag.Delay > 0)
        {
            _delayed.Enqueue(target);
            target = _delayed.Count > lag.Delay ? _delayed.Dequeue() : lost;
        }
        return lag.Slew is 0 || _releases is 0 ? target : Math.Clamp(target, _value - lag.Slew, _value + lag.Slew);
    }
}
