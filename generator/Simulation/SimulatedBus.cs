using Locum.Wire;

namespace Locum.Simulation;

/// <summary>One bus: frames wait in mailboxes, the winner of arbitration goes next (rules 15 to 18).</summary>
internal sealed class SimulatedBus(string name, int rate, int? dataRate)
{
    private readonly List<Waiting> _waiting = [];
    private readonly Dictionary<int, long> _held = [];
    private long _idleUs;

    public string Name { get; } = name;

    public Waiting? OnWire { get; private set; }

    public long StartUs { get; private set; }

    public long EndUs { get; private set; }

    public long BlockedUntilUs { get; set; }

    public IReadOnlyList<Waiting> Waits => _waiting;

    /// <summary>From the restart of a controller that went bus-off until it is back, µs.</summary>
    public long RecoveryUs { get; } = BusOffRecovery.Us(rate);

    /// <summary>No frame of a station starts before this time.</summary>
    public void Hold(int station, long untilUs) => _held[station] = untilUs;

    public bool IsHeld(int station, long now) => now < HeldUntil(station);

    /// <summary>Takes the waiting frames of a station back.</summary>
    public IReadOnlyList<Waiting> Withdraw(int station)
    {
        var own = _waiting.Where(w => w.Station == station).ToList();
        _waiting.RemoveAll(w => w.Station == station);
        return own;
    }

    public void Put(Waiting frame) => _waiting.Add(frame);

    /// <summary>Ends the frame on the wire if its time has come.</summary>
    public SentFrame? Finish(long now)
    {
        if (OnWire is not { } frame || now < EndUs)
            return null;
        OnWire = null;
        frame.Done?.Invoke();
        return new SentFrame(Name, frame.Sender, frame.Id, frame.Data, frame.OfferedUs, StartUs, EndUs) { Format = frame.Format };
    }

    /// <summary>Starts the winner if the bus is idle.</summary>
    public void Start(long now)
    {
        if (OnWire is not null || _waiting.Count is 0 || now < _idleUs || now < BlockedUntilUs)
            return;
        var winner = -1;
        for (var i = 0; i < _waiting.Count; i++)
            if (!IsHeld(_waiting[i].Station, now) && (winner < 0 || Before(_waiting[i], _waiting[winner])))
                winner = i;
        if (winner < 0)
            return;
        var frame = _waiting[winner];
        _waiting.RemoveAt(winner);
        var bits = WireLength.Of(frame.Id, frame.Format, frame.Data);
        OnWire = frame;
        StartUs = now;
        EndUs = now + bits.TimeUs(rate, dataRate);
        _idleUs = now + bits.WithIntermission.TimeUs(rate, dataRate);
    }

    /// <summary>The next time after <paramref name="now"/> at which something happens here by itself.</summary>
    public long? Next()
    {
        if (OnWire is not null)
            return EndUs;
        return _waiting.Count is 0 ? null : Math.Max(Math.Max(_idleUs, BlockedUntilUs), _waiting.Min(w => HeldUntil(w.Station)));
    }

    private long HeldUntil(int station) => _held.GetValueOrDefault(station);

    private static bool Before(Waiting a, Waiting b)
    {
        var order = CanId.CompareArbitration(a.Id, b.Id);
        if (order is 0)
            order = a.OfferedUs.CompareTo(b.OfferedUs);
        return order is 0 ? a.Station.CompareTo(b.Station) < 0 : order < 0;
    }
}

/// <summary>A frame in a mailbox.</summary>
/// <param name="Station">Boards first, then other traffic; breaks ties between equal identifiers.</param>
/// <param name="Done">Called when the frame has left the bus.</param>
internal sealed record Waiting(CanId Id, FrameFormat Format, byte[] Data, long OfferedUs, string Sender, int Station, Action? Done);
