using Locum.Model;

namespace Locum.Auditing;

/// <summary>All frames that carry one counter of a module, and how far it can have moved between two of them.</summary>
internal sealed class CounterRun
{
    // More steps than any counter has values.
    private const ulong AnyNumber = ulong.MaxValue / 4;

    private readonly ModuleTrack _module;
    private readonly List<Carrier> _all;
    private readonly long _longestUs;

    public CounterRun(ModuleTrack module, int index)
    {
        _module = module;
        Counter = module.Module.Counters[index];
        Carriers = [.. module.Frames.OfType<FrameTrack>().Where(t => t.Frame.AllFields.Any(f => f.Source is CounterValue c && c.Counter == index))];
        _all = [.. Carriers.SelectMany(t => Find(t, index)).OrderBy(c => c.Seen.UntilUs)];
        _longestUs = _all.Count is 0 ? 0 : _all.Max(c => c.Seen.UntilUs - c.Seen.FromUs);
    }

    public Counter Counter { get; }

    public IReadOnlyList<FrameTrack> Carriers { get; }

    public IEnumerable<Carrier> Of(FrameTrack track) => _all.Where(c => c.Track == track);

    /// <summary>True if the counter can have moved by so many steps, modulo its number of values.</summary>
    /// <param name="old">A frame.</param>
    /// <param name="now">The next frame of the same identifier that carries the counter.</param>
    /// <param name="phase">Kept from the frame before.</param>
    public bool Allows(Carrier old, Carrier now, ulong step, CounterPhase phase)
    {
        var (least, most) = Between(old, now);
        var moved = phase.Move(step, least, most);
        // A frame that carries it may have started anew, or the board.
        var anew = Counter.RestartOnEntry
            ? Carriers.Any(t => !_module.Stayed(t.Modes, old.Seen.FromUs, now.Seen.UntilUs))
            : now.Seen.StartUs - old.Seen.StartUs > 2 * old.Track.LongestUs && !_module.Stayed(old.Track.Modes, old.Seen.UntilUs, now.Seen.FromUs);
        if (anew || !moved)
            phase.Forget();
        if (moved)
            return true;
        var start = CounterPlace.Of(Counter, Counter.Start) ?? 0;
        return anew && (now.Place!.Value + Counter.Count - start) % Counter.Count <= (most + Counter.Every) / Counter.Every;
    }

    private IEnumerable<Carrier> Find(FrameTrack track, int index)
    {
        var judge = _module.Judges[track];
        for (var i = 0; i < track.Seen.Count; i++)
        {
            var pages = _module.Verdicts[track][i].Pages;
            var fields = pages.Select(p => judge.Counter(p, index)).ToList();
            if (pages.Count > 0 && fields.TrueForAll(f => f is null))
                continue;
            var field = fields.Distinct().Count() is 1 ? fields[0] : null;
            var place = field is null ? null : CounterPlace.Of(Counter, field.ReadBits(track.Data(track.Seen[i])));
            yield return new Carrier(track, track.Seen[i], i, pages.Count > 0 && fields.TrueForAll(f => f is not null), field, place);
        }
    }

    // For the earlier frame, for others between the two, for what is missing, for skipped slots.
    private (ulong Least, ulong Most) Between(Carrier old, Carrier now)
    {
        ulong least = 1;
        ulong most = 1;
        for (var i = FirstFrom(old.Seen.FromUs); i < _all.Count && _all[i].Seen.UntilUs - _longestUs <= now.Seen.UntilUs; i++)
        {
            var other = _all[i];
            if (other.Track == old.Track ? other.Index <= old.Index || other.Index >= now.Index : other.Seen.FromUs > now.Seen.UntilUs)
                continue;
            most++;
            if (other.Surely && (other.Track == old.Track || (other.Seen.FromUs >= old.Seen.UntilUs && other.Seen.UntilUs <= now.Seen.FromUs)))
                least++;
        }
        foreach (var track in Carriers)
        {
            most += (ulong)track.MissedBetween(old.Seen.FromUs, now.Seen.UntilUs);
            // What a controller took and never sent before the capture ended.
            if (track != old.Track && (track.Seen.Count is 0 || track.Seen[^1].UntilUs < now.Seen.UntilUs))
                most++;
            if (Counter.PerSlot)
                most += Skipped(track, old, now);
        }
        return (least, most);
    }

    private ulong Skipped(FrameTrack track, Carrier old, Carrier now)
    {
        // With events releases can be skipped that no distance shows.
        if (track.Frame.Events is not null)
            return AnyNumber;
        // A frame that stops may have skipped releases while the last one sent was waiting, and drops the one that waits.
        var restarts = _module.Stayed(track.Modes, old.Seen.FromUs, now.Seen.UntilUs) ? 0UL : 2 + (ulong)((old.Seen.UntilUs - old.Seen.ReleasedUs) / track.Frame.ShortestPeriodUs);
        // A release is skipped while the one before it waits, so only as long as there was traffic without a pause.
        var waits = track == old.Track ? now.Seen.UntilUs - now.Seen.ReleasedUs : now.Seen.UntilUs - old.Seen.FromUs + track.Frame.ShortestPeriodUs;
        return (ulong)(waits / track.Frame.ShortestPeriodUs) + restarts;
    }

    private int FirstFrom(long time)
    {
        var (low, high) = (0, _all.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_all[middle].Seen.UntilUs < time)
                low = middle + 1;
            else
                high = middle;
        }
        return low;
    }
}
