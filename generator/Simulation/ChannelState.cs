using Locum.Model;

namespace Locum.Simulation;

/// <summary>A channel on which the module answers testers, while it runs (rules A1 to A10).</summary>
/// <param name="ask">Withdraws what the channel wanted to send, then asks for a release at a time; null asks for none.</param>
internal sealed class ChannelState(Channel channel, Action<long?> ask)
{
    private const int MostRequestBytes = 64;
    private const long TimeoutUs = 1_000_000;
    private const long SessionUs = 5_000_000;
    private const byte Continue = 0x30;
    private const byte Wait = 0x31;
    private const byte Overflow = 0x32;

    private readonly List<byte> _request = [];
    private readonly Queue<byte[]> _answer = [];
    private Phase _phase;
    private int _expected;
    private int _number;
    private int _block;
    private long _separationUs;
    private byte[]? _flow;
    private byte _session = Services.DefaultSession;

    private enum Phase
    {
        Idle,
        Receiving,
        Answering,
        Awaiting,
    }

    public Channel Channel { get; } = channel;

    /// <summary>When the tester's next frame must have come; null while none is awaited.</summary>
    public long? TimerUs { get; private set; }

    /// <summary>When the session falls back; null in the default session and while the channel is busy.</summary>
    public long? SessionEndsUs { get; private set; }

    /// <summary>A controller holds a frame of this channel, and the channel waits for its leaving.</summary>
    public bool Leaving { get; private set; }

    public void Reset()
    {
        _phase = Phase.Idle;
        _flow = null;
        _session = Services.DefaultSession;
        TimerUs = SessionEndsUs = null;
        Leaving = false;
    }

    public void Take(byte[] data, bool functional, long now)
    {
        if (data.Length is 0 or > 8)
            return;
        var mayStart = _phase is Phase.Idle || (_phase is Phase.Receiving && !functional);
        switch (data[0] >> 4, functional)
        {
            case (0, _) when mayStart && data[0] is >= 1 and <= 7 && data.Length > data[0]:
                _request.Clear();
                _request.AddRange(data.AsSpan(1, data[0]));
                Complete(functional, now);
                break;
            case (1, false) when mayStart && data.Length is 8:
                TakeFirst(data, now);
                break;
            case (2, false) when _phase is Phase.Receiving && _flow is null:
                TakeConsecutive(data, now);
                break;
            case (3, false) when _phase is Phase.Awaiting && data.Length >= 3:
                TakeFlow(data, now);
                break;
            default:
                break;
        }
    }

    /// <summary>The next frame; changes nothing.</summary>
    public byte[] Compose()
    {
        var frame = _flow ?? _answer.Peek();
        return Channel.Padding is { } padding ? [.. frame, .. Enumerable.Repeat(padding, 8 - frame.Length)] : frame;
    }

    public void Accepted()
    {
        Leaving = true;
        if (_flow is null)
            _answer.Dequeue();
    }

    public void Left(long now)
    {
        Leaving = false;
        if (_flow is not null)
        {
            _flow = null;
            if (_phase is Phase.Receiving)
                TimerUs = now + TimeoutUs;
        }
        else if (_answer.Count is 0)
        {
            Rest(now);
        }
        else if (_block is 1)
        {
            _phase = Phase.Awaiting;
            TimerUs = now + TimeoutUs;
        }
        else
        {
            _block = Math.Max(0, _block - 1);
            ask(now + _separationUs);
        }
    }

    /// <summary>Lets timers run out that end now.</summary>
    public void Tick(long at)
    {
        if (TimerUs <= at)
            Rest(at);
        if (SessionEndsUs > at || SessionEndsUs is null)
            return;
        SessionEndsUs = null;
        _session = Services.DefaultSession;
    }

    private void TakeFirst(byte[] data, long now)
    {
        long length = (data[0] & 0xF) << 8 | data[1];
        if (length is 0)
        {
            length = (long)data[2] << 24 | (long)data[3] << 16 | (long)data[4] << 8 | data[5];
            if (length <= 0xFFF)
                return;
        }
        if (length < 8)
            return;
        if (length > MostRequestBytes)
        {
            Rest(now);
            Reply([Overflow, 0, 0], now);
            return;
        }
        _phase = Phase.Receiving;
        SessionEndsUs = null;
        _request.Clear();
        _request.AddRange(data.AsSpan(2));
        _expected = (int)length;
        _number = 0;
        Reply([Continue, (byte)Channel.BlockSize, Channel.Separation], now);
    }

    private void TakeConsecutive(byte[] data, long now)
    {
        var missing = _expected - _request.Count;
        var carried = Math.Min(7, missing);
        if (data.Length - 1 < carried)
            return;
        if ((data[0] & 0xF) != ++_number % 16)
        {
            Rest(now);
            return;
        }
        _request.AddRange(data.AsSpan(1, carried));
        if (carried == missing)
            Complete(false, now);
        else if (Channel.BlockSize > 0 && _number % Channel.BlockSize is 0)
            Reply([Continue, (byte)Channel.BlockSize, Channel.Separation], now);
        else
            TimerUs = now + TimeoutUs;
    }

    private void TakeFlow(byte[] data, long now)
    {
        switch (data[0])
        {
            case Continue:
                _phase = Phase.Answering;
                TimerUs = null;
                _block = data[1];
                _separationUs = data[2] switch
                {
                    <= 0x7F => data[2] * 1_000,
                    >= 0xF1 and <= 0xF9 => (data[2] - 0xF0) * 100,
                    _ => 127_000,
                };
                ask(now);
                break;
            case Wait:
                TimerUs = now + TimeoutUs;
                break;
            default:
                Rest(now);
                break;
        }
    }

    private void Complete(bool functional, long now)
    {
        TimerUs = SessionEndsUs = null;
        Leaving = false;
        _flow = null;
        var answer = Services.Answer(Channel, ref _session, [.. _request], functional);
        if (answer is null)
        {
            Rest(now);
            ask(null);
            return;
        }
        _phase = Phase.Answering;
        _block = 1;
        _answer.Clear();
        foreach (var frame in Segments(answer))
            _answer.Enqueue(frame);
        ask(now + Channel.AnswerAfterUs);
    }

    private static IEnumerable<byte[]> Segments(byte[] answer)
    {
        if (answer.Length <= 7)
        {
            yield return [(byte)answer.Length, .. answer];
            yield break;
        }
        yield return [(byte)(0x10 | answer.Length >> 8), (byte)answer.Length, .. answer[..6]];
        var number = 1;
        foreach (var part in answer.Skip(6).Chunk(7))
            yield return [(byte)(0x20 | number++ % 16), .. part];
    }

    private void Reply(byte[] flow, long now)
    {
        _flow = flow;
        Leaving = false;
        TimerUs = null;
        ask(now);
    }

    private void Rest(long now)
    {
        _phase = Phase.Idle;
        TimerUs = null;
        SessionEndsUs = _session is Services.DefaultSession ? null : now + SessionUs;
    }
}
