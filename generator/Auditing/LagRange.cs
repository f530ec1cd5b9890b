using Locum.Model;
using Locum.Simulation;

namespace Locum.Auditing;

/// <summary>What a late or slow follower can have reached: anything between the values it was to follow so far.</summary>
internal sealed class LagRange
{
    // Releases that still bring what came before the first reception.
    private const int Margin = 2;

    private int _taken;
    private int _settling;
    private long _low = long.MaxValue;
    private long _high = long.MinValue;

    /// <summary>Takes the next payload's value; null while the value may come from before the capture.</summary>
    public (long Low, long High)? Take(Lag lag, Field field, long value, ReceivedChoice received)
    {
        var hearing = received.Hearings[lag.Follow.Received];
        var heard = received.Of(lag.Follow.Received);
        if (heard.MayBeUnknown || _taken is 0)
            _settling = lag.Delay + Margin;
        // Where it starts nobody can tell.
        var unknown = _settling > 0;
        if (unknown)
        {
            _settling--;
            Widen(value);
        }
        for (; _taken < heard.End; _taken++)
            Widen(field.WithSign((ulong)Composer.Followed(lag.Follow, hearing.Read(_taken, lag.Follow.Field)) & (ulong.MaxValue >> (64 - field.Bits))));
        Widen(field.WithSign(lag.Follow.Lost));
        return unknown ? null : (_low, _high);
    }

    private void Widen(long value)
    {
        _low = Math.Min(_low, value);
        _high = Math.Max(_high, value);
    }
}
