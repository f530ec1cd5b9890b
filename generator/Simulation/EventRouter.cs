using Locum.Model;
using Locum.Planning;

namespace Locum.Simulation;

/// <summary>Brings events to the frames that they send (rules 24 to 26).</summary>
internal sealed class EventRouter(IReadOnlyList<FrameState> frames)
{
    private readonly FrameState[] _frames = [.. frames.Where(f => f.Planned.Frame.Events is not null)];
    private readonly Dictionary<FrameState, ulong[]> _seen = [];

    /// <summary>The next release that an event asked for, or the end of a gap that must be noticed.</summary>
    public long? Next()
    {
        long? next = null;
        foreach (var frame in _frames)
            if (frame.EventUs is { } at && (next is null || at < next))
                next = at;
        return next;
    }

    /// <summary>The first frame, by row, with a release by an event due now.</summary>
    public FrameState? NextDue(long now)
    {
        foreach (var frame in _frames)
            if (frame.EventUs <= now)
                return frame;
        return null;
    }

    /// <summary>Something happened to a module.</summary>
    public void Fire(PlannedModule owner, TriggerKind kind, int index, long at)
    {
        foreach (var frame in _frames)
            if (frame.Sending && frame.Planned.Owner == owner)
                foreach (var trigger in frame.Planned.Frame.Events!.Triggers)
                    if (trigger.Kind == kind && trigger.Index == index)
                        frame.Fire(at + trigger.AfterUs);
    }

    /// <summary>An input of the board settled.</summary>
    public void FireInput(int boardInput, bool active, long at)
    {
        var kind = active ? TriggerKind.InputActive : TriggerKind.InputInactive;
        foreach (var frame in _frames.Where(f => f.Sending))
            foreach (var trigger in frame.Planned.Frame.Events!.Triggers.Where(t => t.Kind == kind && frame.Planned.Owner.Inputs[t.Index] == boardInput))
                frame.Fire(at + trigger.AfterUs);
    }

    /// <summary>A frame starts sending: its own start is an event, and its fields count as seen.</summary>
    public void Started(FrameState frame, ModuleState module, long at)
    {
        if (frame.Planned.Frame.Events is not { } events)
            return;
        _seen[frame] = Look(frame, events, module);
        foreach (var trigger in events.Triggers.Where(t => t.Kind is TriggerKind.Start))
            frame.Fire(at + trigger.AfterUs);
    }

    /// <summary>Compares the fields whose change is an event with what they were at the step before.</summary>
    public void FireChanges(IReadOnlyList<ModuleState> modules, long now)
    {
        foreach (var frame in _frames)
        {
            if (!frame.Sending || frame.Planned.Frame.Events!.Changes.Count is 0)
                continue;
            var values = Look(frame, frame.Planned.Frame.Events!, modules[frame.Planned.Owner.Index]);
            if (values.AsSpan().SequenceEqual(_seen[frame]))
                continue;
            _seen[frame] = values;
            frame.Fire(now);
        }
    }

    private static ulong[] Look(FrameState frame, Events events, ModuleState module) =>
        [.. events.Changes.Select(c => Composer.Changing(frame.Planned.Frame.Fields[c], module.Mode.Index, module.Receives))];
}
