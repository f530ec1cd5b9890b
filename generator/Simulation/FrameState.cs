using Locum.Model;
using Locum.Planning;

namespace Locum.Simulation;

/// <summary>One frame of a board while it runs.</summary>
internal sealed class FrameState
{
    public FrameState(PlannedFrame planned, IReadOnlyList<CounterState> counters)
    {
        Planned = planned;
        Composer = new Composer(planned.Frame);
        Counters = [.. planned.Frame.Fields.Select(f => f.Source).OfType<CounterValue>().Select(c => c.Counter).Distinct().Select(c => counters[c])];
    }

    public PlannedFrame Planned { get; }

    public Composer Composer { get; }

    /// <summary>Counters that this frame carries, each once.</summary>
    public IReadOnlyList<CounterState> Counters { get; }

    public bool Sending { get; set; }

    public bool Pending { get; set; }

    /// <summary>Next release while sending, µs.</summary>
    public long DueUs { get; set; }

    public long Skipped { get; private set; }

    public bool InMailbox { get; set; }

    public void Start(long at)
    {
        Sending = true;
        DueUs = at + Planned.Frame.OffsetUs;
        foreach (var counter in Counters.Where(c => c.Counter.RestartOnEntry))
            counter.Restart();
    }

    public void Skip(long releases)
    {
        Skipped += releases;
        foreach (var counter in Counters.Where(c => c.Counter.PerSlot))
            counter.Advance((ulong)releases);
    }

    public void Accepted()
    {
        Pending = false;
        InMailbox = true;
        foreach (var counter in Counters)
            counter.Advance(1);
    }
}
