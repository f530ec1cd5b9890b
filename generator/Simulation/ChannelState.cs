using Locum.Model;

namespace Locum.Simulation;

/// <summary>A channel on which the module answers testers, while it runs (rules A1 to A10, A12 and A13).</summary>
/// <param name="fd">Its frames are CAN FD, and it takes such frames of any length.</param>
/// <param name="ask">Withdraws what the channel wanted to send, then asks for a release at a time; null asks for none.</param>
internal sealed class ChannelState(Channel channel, bool fd, Action<long?> ask)
{
    private const int MostRequestBytes = 64;
    private const long TimeoutUs = 1_000_000;
    private const long SessionUs = 5_000_000;
    private const byte Continue = 0x30;
    private const byte Wait = 0x31;
    private const byte Overflow = 0x32;

    private readonly Queue<byte[]> _answer = [];
    private Phase _phase;
    private IncomingRequest? _incoming;
    private int _block;
    private long _separationUs;
    private byte[]? _flow;
    private byte[]? _pending;
    private long _dueUs;
    private byte _service;
    private byte _session = Services.DefaultSession;

    private enum Phase
    {
        Idle,
        Receiving,
        Answering,
        Awaiting,
    }

    public Channel Channel { get; } = channel;

    /// <summary>When the channel's frame must have left, or the tester's next one have come; null while nothing is awaited.</summary>
    public long? TimerUs { get; private set; }

    /// <summary>When the session falls back; null in the default session and while the channel is busy.</summary>
    public long? SessionEndsUs { get; private set; }

    /// <summary>Nothing was asked that is not answered.</summary>
    public bool IsIdle => _phase is Phase.Idle && _flow is null;

    /// <summary>A controller holds a frame of this channel, and the channel waits for its leaving.</summary>
    public bool Leaving { get; private set; }

    public void Reset()
    {
        _session = Services.DefaultSession;
        _flow = null;
        Leaving = false;
        Rest(0);
    }

    public void Take(byte[] data, bool functional, long now)
    {
        if (data.Length is 0 || (data.Length > 8 && !fd))
            return;
        var mayStart = _phase is Phase.Idle || (_phase is Phase.Receiving && !functional);
        switch (data[0] >> 4, functional)
        {
            case (0, _) when mayStart && IncomingRequest.Single(data) is { } request:
                Complete(request, functional, now);
                break;
            case (1, false) when mayStart && IncomingRequest.Begin(data) is { } first:
                TakeFirst(first, now);
                break;
            case (2, false) when _phase is Phase.Receiving && _flow is null && _incoming!.Fits(data):
                TakeConsecutive(_incoming, data, now);
                break;
            case (3, false) when _phase is Phase.Awaiting && data.Length >= 3:
                TakeFlow(data, now);
                break;
            default:
                break;
        }
    }

    /// <summary>The next frame; changes nothing.</summary>
    public byte[] Compose() => AnswerFrames.Fill(_flow ?? _pending ?? _answer.Peek(), Channel.Padding, Channel.DefaultPadding);

    public void Accepted()
    {
        Leaving = true;
        if (_flow is null && _pending is null)
            _answer.Dequeue();
    }

    public void Left(long now)
    {
        Leaving = false;
        TimerUs = null;
        if (_flow is not null)
        {
            _flow = null;
            if (_phase is Phase.Receiving)
                TimerUs = now + TimeoutUs;
        }
        else if (_pending is not null)
        {
            AnswerWithin(Channel.P2StarUs, now);
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
            Ask(now + _separationUs);
        }
    }

    /// <summary>Lets timers run out that end now.</summary>
    public void Tick(long at)
    {
        if (TimerUs <= at)
        {
            TimerUs = null;
            Leaving = false;
            _flow = null;
            ask(null);
            if (_phase is not Phase.Idle)
                Rest(at);
        }
        if (SessionEndsUs > at || SessionEndsUs is null)
            return;
        SessionEndsUs = null;
        _session = Services.DefaultSession;
    }

    private void TakeFirst(IncomingRequest first, long now)
    {
        if (first.Length > MostRequestBytes)
        {
            Rest(now);
            Reply([Overflow, 0, 0], now);
            return;
        }
        _phase = Phase.Receiving;
        SessionEndsUs = null;
        _incoming = first;
        Reply([Continue, (byte)Channel.BlockSize, Channel.Separation], now);
    }

    private void TakeConsecutive(IncomingRequest request, byte[] data, long now)
    {
        if (!request.Add(data))
            Rest(now);
        else if (request.IsComplete)
            Complete(request.Bytes, false, now);
        else if (Channel.BlockSize > 0 && request.Frames % Channel.BlockSize is 0)
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
                _block = data[1];
                _separationUs = data[2] switch
                {
                    <= 0x7F => data[2] * 1_000,
                    >= 0xF1 and <= 0xF9 => (data[2] - 0xF0) * 100,
                    _ => 127_000,
                };
                Ask(now);
                break;
            case Wait:
                TimerUs = now + TimeoutUs;
                break;
            default:
                Rest(now);
                break;
        }
    }

    private void Complete(byte[] request, bool functional, long now)
    {
        SessionEndsUs = null;
        Leaving = false;
        _flow = null;
        var (answer, after) = Services.Answer(Channel, ref _session, request, functional);
        if (answer is null)
        {
            Rest(now);
            ask(null);
            return;
        }
        _phase = Phase.Answering;
        _block = 1;
        _service = request[0];
        _dueUs = now + after;
        _answer.Clear();
        foreach (var frame in AnswerFrames.Of(answer, Channel.FrameLength))
            _answer.Enqueue(frame);
        AnswerWithin(Channel.P2Us, now);
    }

    // The answer, or "response pending" when the tester would not wait so long.
    private void AnswerWithin(long limit, long now)
    {
        var late = _dueUs > now + limit;
        _pending = late ? [3, 0x7F, _service, 0x78] : null;
        Ask(late ? now + (limit * 4 / 5) : Math.Max(now, _dueUs));
    }

    private void Reply(byte[] flow, long now)
    {
        _flow = flow;
        Ask(now);
    }

    private void Ask(long at)
    {
        Leaving = false;
        TimerUs = at + TimeoutUs;
        ask(at);
    }

    private void Rest(long now)
    {
        _phase = Phase.Idle;
        _pending = null;
        TimerUs = null;
        SessionEndsUs = _session is Services.DefaultSession ? null : now + SessionUs;
    }
}
