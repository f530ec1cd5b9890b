using Locum.Model;
using Locum.Planning;

namespace Locum.Simulation;

/// <summary>One frame of a board while it runs (rules 7 to 9, 13, 14 and 22 to 26).</summary>
internal sealed class FrameState
{
    private readonly Composer[] _pages;
    private readonly CounterState[][] _counters;
    private readonly Dictionary<Field, LiveState> _live;
    private readonly Burst? _burst;
    private readonly Events? _events;
    private long? _lastCycleUs;
    private int _burstLeft;
    private int _page;

    public FrameState(PlannedFrame planned, IReadOnlyList<CounterState> counters)
    {
        Planned = planned;
        var frame = planned.Frame;
        _pages = [.. frame.Variants.Select(v => new Composer(v))];
        _counters = [.. frame.Variants.Select(v => v.Fields.Select(f => f.Source).OfType<CounterValue>().Select(c => c.Counter).Distinct().Select(c => counters[c]).ToArray())];
        _live = frame.AllFields.Where(f => f.Source is LiveValue).ToDictionary(f => f, f => new LiveState(f, ((LiveValue)f.Source!).Live), ReferenceEqualityComparer.Instance as IEqualityComparer<Field>);
        _burst = frame.Burst;
        _events = frame.Events;
    }

    public PlannedFrame Planned { get; }

    public bool Sending { get; private set; }

    public bool Pending { get; set; }

    /// <summary>Next cyclic release while sending, µs; null when there is none.</summary>
    public long? CycleUs { get; private set; }

    /// <summary>Next release by an event, µs; null when there is none.</summary>
    public long? EventUs { get; private set; }

    /// <summary>Releases of the current event still to come.</summary>
    public int EventsLeft { get; private set; }

    /// <summary>Nominal time of the newest release since the frame started sending; null before.</summary>
    public long? LastUs { get; private set; }

    public long Skipped { get; private set; }

    public bool InMailbox { get; set; }

    public Composer Page => _pages[_page];

    /// <summary>The channel that sends its answers in this frame.</summary>
    public ChannelState? Channel { get; set; }

    /// <summary>The node that sends all its frames in this row.</summary>
    public NodeState? Node { get; set; }

    public void Start(long at)
    {
        Sending = true;
        CycleUs = Planned.Frame.IsCyclic ? at + Planned.Frame.OffsetUs : null;
        _lastCycleUs = null;
        _burstLeft = _burst?.Count ?? 0;
        EventUs = null;
        EventsLeft = 0;
        LastUs = null;
        _page = 0;
        foreach (var live in _live.Values)
            live.Start();
        foreach (var counter in _counters.SelectMany(c => c).Distinct().Where(c => c.Counter.RestartOnEntry))
            counter.Restart();
    }

    public void Stop()
    {
        Sending = false;
        CycleUs = null;
        Withdraw();
        Channel?.Reset();
        Node?.Reset();
    }

    /// <summary>Forgets the releases that events asked for.</summary>
    public void Withdraw()
    {
        EventUs = null;
        EventsLeft = 0;
    }

    /// <summary>The module went on to another mode of the frame's set; true if the next release moved.</summary>
    public bool ChangePeriod(int mode, long at)
    {
        if (Planned.Frame.PeriodByMode.Count is 0 || _burstLeft > 0 || _lastCycleUs is not { } last)
            return false;
        CycleUs = Math.Max(at, last + Planned.Frame.PeriodIn(mode));
        return true;
    }

    /// <summary>Moves past the cyclic releases that are due; returns how many there were.</summary>
    public long TakeCycle(long now, int mode)
    {
        long due = 0;
        while (CycleUs is { } cycle && cycle <= now)
        {
            _burstLeft = Math.Max(0, _burstLeft - 1);
            var distance = _burstLeft > 0 ? _burst!.PeriodUs : Planned.Frame.PeriodIn(mode);
            var times = _burstLeft > 0 ? 1 : ((now - cycle) / distance) + 1;
            due += times;
            CycleUs = cycle + (times * distance);
            _lastCycleUs = CycleUs - distance;
        }
        if (due > 0)
            LastUs = Math.Max(LastUs ?? long.MinValue, _lastCycleUs!.Value);
        return due;
    }

    /// <summary>An event asks for a release at a time.</summary>
    public void Fire(long at)
    {
        EventsLeft = _events!.Repeat;
        EventUs = LastUs is { } last ? Math.Max(at, last + _events.GapUs) : at;
    }

    /// <summary>Moves past the event releases that are due; returns how many there were.</summary>
    public long TakeEvents(long now)
    {
        long due = 0;
        while (EventUs is { } at && at <= now)
        {
            due++;
            LastUs = Math.Max(LastUs ?? long.MinValue, at);
            EventUs = --EventsLeft > 0 ? at + _events!.SpacingUs : null;
        }
        return due;
    }

    /// <summary>The raw value of a live field.</summary>
    public ulong Live(Field field) => _live[field].Raw;

    /// <summary>The frame is released: its live fields move on.</summary>
    public void MoveOn(IReadOnlyList<ReceivedState> receives)
    {
        foreach (var live in _live.Values)
            live.Release(receives);
    }

    public void Skip(long releases)
    {
        Skipped += releases;
        foreach (var counter in _counters[_page].Where(c => c.Counter.PerSlot))
            counter.Advance((ulong)releases);
    }

    public void Accepted()
    {
        Pending = false;
        InMailbox = true;
        Channel?.Accepted();
        Node?.Accepted();
        foreach (var counter in _counters[_page])
            counter.Advance(1);
        if (_page < _pages.Length - 1)
            _page++;
        else if (!Planned.Frame.HoldLastPage)
            _page = 0;
    }
}
