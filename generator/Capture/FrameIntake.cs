namespace Locum.Capture;

/// <summary>What every reader hands its entries to: counts them, looks at their times, and passes them on.</summary>
internal sealed class FrameIntake(IFrameSink sink, Oddities oddities)
{
    private const long NsPerUs = 1000;
    private const long BackNs = RecordingBuilder.BackUs * NsPerUs;
    private const long JumpNs = RecordingBuilder.JumpUs * NsPerUs;

    private readonly BusBook _buses = new(sink as IBusSink);
    private long _lastNs;

    public Oddities Oddities { get; } = oddities;

    /// <summary>Entries so far.</summary>
    public long Entries { get; private set; }

    /// <summary>Time of the first entry.</summary>
    public long FirstNs { get; private set; }

    /// <summary>Time of the entry before; 0 before the first.</summary>
    public long PreviousNs { get; private set; }

    public IReadOnlyList<BusCount> Buses => _buses.All;

    /// <summary>The number of a bus; a name that is new gets the next.</summary>
    public int Bus(ReadOnlySpan<byte> name) => _buses.Number(name);

    /// <summary>One entry.</summary>
    /// <param name="frame">What it is; its bus comes from <see cref="Bus"/>.</param>
    /// <param name="data">Its payload; empty for remote frames and errors.</param>
    /// <param name="place">Line or packet, from 1.</param>
    public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data, long place)
    {
        long timeNs = frame.TimeNs;
        if (Entries is 0)
            FirstNs = _lastNs = timeNs;
        if (timeNs < 0)
            Oddities.Add(OddityKind.NegativeTime, place);
        if (timeNs < _lastNs || timeNs - _lastNs > JumpNs)
            Step(timeNs, place);
        else
            _lastNs = timeNs;
        PreviousNs = timeNs;
        Entries++;
        _buses.Count(frame.Bus, frame.Traits);
        sink.Take(frame, data);
    }

    private void Step(long timeNs, long place)
    {
        if (timeNs >= _lastNs)
            Oddities.Add(OddityKind.TimeJump, place);
        else if (timeNs >= _lastNs - BackNs)
            Oddities.Add(OddityKind.TimeJitter, place);
        else
            Oddities.Add(OddityKind.TimeBackwards, place);
        if (timeNs > _lastNs || timeNs < _lastNs - BackNs)
            _lastNs = timeNs;
    }
}
