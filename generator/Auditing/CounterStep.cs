using Locum.Model;

namespace Locum.Auditing;

/// <summary>The counter of a frame that no other frame moves, on all of its pages at one place.</summary>
internal sealed class CounterStep
{
    private const double NearlyAll = 0.9;

    private readonly Field _field;
    private readonly Counter _counter;

    private CounterStep(Field field, Counter counter) => (_field, _counter) = (field, counter);

    /// <summary>Values before the first one comes again.</summary>
    public ulong Count => _counter.Count;

    /// <summary>Null when the frame has no such counter that moves with every frame.</summary>
    public static CounterStep? Field(FrameTrack track)
    {
        var module = track.Planned.Owner.Module;
        foreach (var field in track.Frame.Fields)
            if (field.Source is CounterValue { Counter: var index } && module.Counters[index] is { Count: > 3, Every: 1 } counter
                && module.Frames.Count(f => f.AllFields.Any(o => o.Source is CounterValue c && c.Counter == index)) is 1)
                return new CounterStep(field, counter);
        return null;
    }

    /// <summary>The counter's place in a payload; null for values that it never takes and for payloads of another length.</summary>
    public ulong? Place(ReadOnlySpan<byte> data)
    {
        var bits = 8 * data.Length;
        return _field.Positions().All(p => p < bits) ? CounterPlace.Of(_counter, _field.ReadBits(data)) : null;
    }

    /// <summary>True if one counter goes on through nearly all frames in their order.</summary>
    public static bool Follows(FrameTrack track)
    {
        var counter = Field(track)!;
        var (steps, right) = (0, 0);
        ulong? before = null;
        foreach (var seen in track.Seen)
        {
            var place = counter.Place(track.Data(seen));
            if (before is { } last && place is { } now)
            {
                steps++;
                right += (last + 1) % counter.Count == now ? 1 : 0;
            }
            before = place;
        }
        return right > NearlyAll * steps;
    }
}
