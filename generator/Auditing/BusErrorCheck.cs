using Locum.Reporting;
using Locum.Wire;

namespace Locum.Auditing;

/// <summary>Errors on the bus that hit the board's frames: the frame that an error destroys is sent again right behind it.</summary>
internal sealed class BusErrorCheck(PartView view, Sink sink)
{
    /// <summary>Error flag, echo, delimiter, intermission and a lost arbitration or two (ISO 11898-1, from memory).</summary>
    private const int NearBits = 31;

    public void Check()
    {
        for (var bus = 0; bus < view.Plan.Buses.Count; bus++)
            if (view.BusNumbers[bus] is { } number)
                CheckBus(bus, number);
    }

    private void CheckBus(int bus, int number)
    {
        var errors = view.Recording.Errors.Where(e => e.Bus == number && e.TimeUs >= view.Part.StartUs && e.TimeUs <= view.Part.EndUs).ToList();
        if (errors.Count is 0)
            return;
        var near = FrameLength.TimeUs(NearBits, view.Plan.Buses[bus].Rate) + (2 * view.Tolerance.StampUs);
        var tracks = view.Frames.Where(t => t.Planned.Bus == bus).ToList();
        var own = tracks.SelectMany(t => t.Seen.Select(s => (Order: t.Order(s), Track: t, s.StartUs))).ToDictionary(s => s.Order);
        var marks = errors.Select(e => e.Order).ToHashSet();
        var hits = new Dictionary<FrameTrack, (int Count, long First, long Last)>();
        foreach (var error in errors)
        {
            var next = view.Buses[bus]!.Next(error.Order);
            while (next is { } order && marks.Contains(order))
                next = view.Buses[bus]!.Next(order);
            if (next is not { } behind || !own.TryGetValue(behind, out var victim) || victim.StartUs > error.TimeUs + near)
                continue;
            hits[victim.Track] = hits.TryGetValue(victim.Track, out var old) ? (old.Count + 1, old.First, error.TimeUs) : (1, error.TimeUs, error.TimeUs);
        }
        foreach (var (track, hit) in hits)
            sink.Add(FindingKind.BusErrors, track, $"{Words.Count(hit.Count, "error")} right before it; {errors.Count} on the bus in all", hit.First, hit.Last, hit.Count, track.Planned.Owner.Module.Buses[track.Frame.Bus].Span);
        if (hits.Count is 0)
            sink.Skip($"{Words.Count(errors.Count, "error")} on bus {view.Plan.Buses[bus].Name}, none of them at frames of this board");
    }
}
