using System.Numerics;
using Locum.Model;

namespace Locum.Auditing;

/// <summary>Which modes a module can have been in, as far as its frames tell. The inputs are not in a capture; any level is possible.</summary>
internal sealed class ModeTrack
{
    private const double SamePeriod = 1.1;
    private const double WholePeriod = 0.98;

    private readonly Module _module;
    private readonly ModePaths _paths;
    private readonly IReadOnlyList<Hearing> _hearings;
    private readonly Tolerance _tolerance;
    private readonly long _endUs;
    private readonly List<ModeSight> _sights;
    private readonly ulong[] _modes;
    private readonly ulong[] _open;
    private readonly long[][] _left;
    private readonly ulong _all;

    /// <param name="sights">What the frames say; sorted here.</param>
    /// <param name="endUs">Where the part of the capture ends.</param>
    public ModeTrack(Module module, ModePaths paths, IReadOnlyList<Hearing> hearings, List<ModeSight> sights, long endUs, Tolerance tolerance)
    {
        _module = module;
        _paths = paths;
        _hearings = hearings;
        _tolerance = tolerance;
        _endUs = endUs;
        _all = module.Modes.Aggregate(0UL, (set, mode) => set | 1UL << mode.Index);
        _sights = [.. sights.OrderBy(s => s.UntilUs).ThenBy(s => s.FromUs)];
        _modes = [.. _sights.Select(s => s.Modes)];
        _open = new ulong[_sights.Count];
        _left = new long[_sights.Count][];
        if (paths.IsUsable)
            Narrow();
    }

    public IReadOnlyList<ModeSight> Sights => _sights;

    public IReadOnlyList<ulong> Modes => _modes;

    /// <summary>Places in <see cref="Sights"/> that cannot follow the one before.</summary>
    public SortedSet<int> Contradictions { get; } = [];

    /// <summary>Ways whose conditions can hold at some time of a while.</summary>
    public ulong Open(long from, long until)
    {
        var open = 0UL;
        for (var way = 0; way < _paths.Ways.Count; way++)
            if (_paths.Ways[way].Exit?.When.All(c => MayHold(c, from - Tolerance.ReactionUs, until)) ?? true)
                open |= 1UL << way;
        return open;
    }

    /// <summary>Hearing of the frame that a condition looks at; null for inputs.</summary>
    public Hearing? HearingOf(Condition condition) => condition switch
    {
        ReceivedCondition received => _hearings[received.Received],
        FieldCondition field => _hearings[field.Received],
        _ => null,
    };

    /// <summary>The mode that the module certainly has after a sight; null when it can be several.</summary>
    public int? Only(int sight) => BitOperations.IsPow2(_modes[sight]) ? BitOperations.TrailingZeroCount(_modes[sight]) : null;

    /// <summary>The least time from a sight to a mode outside a set, as far as the ways are open until a time.</summary>
    public long ToLeave(int sight, ulong inside, long until)
    {
        var open = Open(_sights[sight].FromUs, until);
        var least = ModePaths.Never;
        foreach (var mode in In(_modes[sight]))
            least = Math.Min(least, _paths.ToLeave(mode, inside, _left[sight][mode], open));
        return least;
    }

    /// <summary>Stays in a set of modes, in order of time.</summary>
    /// <param name="likely">True to take a stay as going on where a way out and back would hardly have escaped a cyclic frame.</param>
    public List<Stay> Stays(ulong inside, bool likely = false)
    {
        if (_sights.Count is 0)
            return [];
        if ((_all & ~inside) is 0)
            return [new Stay(Begin(0, _sights.Count - 1, inside), _endUs, _sights[0].UntilUs, _sights[^1].UntilUs, _sights[^1].FromUs)];
        var stays = new List<Stay>();
        if (!_paths.IsUsable)
            return stays;
        for (var i = 0; i < _sights.Count; i++)
        {
            if ((_modes[i] & ~inside) is not 0)
                continue;
            var first = i;
            while (i + 1 < _sights.Count && (StaysBetween(i, inside) || (likely && ProbablyStays(i, inside))))
                i++;
            stays.Add(new Stay(Begin(first, i, inside), End(i, inside), _sights[first].UntilUs, _sights[i].UntilUs, _sights[i].FromUs));
        }
        return stays;
    }

    private long Begin(int first, int last, ulong inside)
    {
        var begin = _sights[first].UntilUs;
        for (var i = first; i <= last; i++)
        {
            // A frame that may have been composed before the stay speaks of an earlier one.
            if ((_sights[i].Frame.Modes & ~inside) is 0 && (i == first || _sights[i].FromUs >= _sights[first].UntilUs))
                begin = Math.Min(begin, _sights[i].SinceUs);
            // A mode that ends by its own time alone began that long before the next one.
            if (_paths.IsUsable && i < last && Only(i) is { } mode && Only(i + 1) is { } next && next != mode && _module.Modes[mode] is { ForUs: { } time, Then: { } then } && then == next
                && !_paths.Ways.Select((w, n) => (w, n)).Any(w => w.w.From == mode && w.w.ForUs is null && (_open[i] >> w.n & 1) is not 0))
                begin = Math.Min(begin, _sights[i + 1].UntilUs - time + _tolerance.EarlyUs(time));
        }
        return begin;
    }

    private long End(int last, ulong inside)
    {
        var limit = last + 1 < _sights.Count ? _sights[last + 1].UntilUs : _endUs;
        var leave = ToLeave(last, inside, limit);
        return leave is ModePaths.Never ? limit : Math.Min(limit, _sights[last].FromUs + Math.Max(0, leave - _tolerance.EarlyUs(leave)));
    }

    // No way out of the set and back fits between two sights that follow each other, in whichever order they were composed.
    private bool StaysBetween(int i, ulong inside)
    {
        var (before, after) = (_modes[i], _modes[i + 1]);
        if ((after & ~inside) is not 0 || Contradictions.Contains(i + 1))
            return false;
        var time = _sights[i + 1].UntilUs - _sights[i].FromUs;
        foreach (var mode in In(before))
        {
            var reach = _paths.Reach(mode, inside, _left[i][mode], _open[i]);
            foreach (var next in In(after))
                if (Fits(reach[_module.Modes.Count + next], time))
                    return false;
        }
        var back = _sights[i].UntilUs - _sights[i + 1].FromUs;
        if (back < 0)
            return true;
        foreach (var mode in In(after))
        {
            var reach = _paths.Reach(mode, inside, 0, _open[i]);
            foreach (var next in In(before))
                if (Fits(reach[_module.Modes.Count + next], back))
                    return false;
        }
        return true;
    }

    // Between two neighbours of one cyclic frame: what lies outside the set but sends the frame lasts about a period at least.
    private bool ProbablyStays(int i, ulong inside)
    {
        var (before, after) = (_sights[i], _sights[i + 1]);
        var frame = before.Frame.Frame;
        if (before.Frame != after.Frame || after.Seen != before.Seen + 1 || !before.Frame.IsPlain || frame.PeriodByMode.Count > 0 || frame.Burst is not null
            || after.UntilUs - before.UntilUs > SamePeriod * frame.PeriodUs || ((_modes[i] | _modes[i + 1]) & ~inside) is not 0 || Contradictions.Contains(i + 1))
            return false;
        return StaysBetween(i, before.Frame.Modes) && In(_modes[i]).All(mode =>
        {
            var reach = _paths.Reach(mode, inside, _left[i][mode], _open[i]);
            return In(_modes[i + 1]).All(next => reach[_module.Modes.Count + next] >= WholePeriod * frame.PeriodUs);
        });
    }

    // Forward what can follow what was seen before, then backward what can have led to what was seen later.
    private void Narrow()
    {
        var absent = Enumerable.Repeat(long.MinValue, _module.Modes.Count).ToArray();
        for (var i = 0; i < _sights.Count; i++)
        {
            if (i > 0)
            {
                _open[i - 1] = Open(Math.Min(_sights[i - 1].FromUs, _sights[i].FromUs), _sights[i].UntilUs);
                var possible = Follow(i - 1, _modes[i - 1], i, _sights[i].Modes);
                if (possible is 0)
                {
                    Contradictions.Add(i);
                    Array.Fill(absent, long.MinValue);
                    possible = _sights[i].Modes;
                }
                _modes[i] = possible;
            }
            _left[i] = new long[_module.Modes.Count];
            for (var mode = 0; mode < absent.Length; mode++)
            {
                if ((_modes[i] >> mode & 1) is 0)
                    absent[mode] = _sights[i].FromUs;
                else if (_module.Modes[mode].ForUs is { } time && absent[mode] > long.MinValue)
                    _left[i][mode] = Math.Max(0, time - (_sights[i].UntilUs - absent[mode]));
            }
        }
        for (var i = _sights.Count - 2; i >= 0; i--)
        {
            if (Contradictions.Contains(i + 1))
                continue;
            var led = 0UL;
            foreach (var mode in In(_modes[i]))
                if (Follow(i, 1UL << mode, i + 1, _modes[i + 1]) is not 0)
                    led |= 1UL << mode;
            if (led is not 0)
                _modes[i] = led;
        }
    }

    private ulong Follow(int i, ulong before, int j, ulong after)
    {
        var time = _sights[j].UntilUs - _sights[i].FromUs;
        var back = _sights[i].UntilUs - _sights[j].FromUs;
        var possible = 0UL;
        foreach (var mode in In(before))
        {
            // In most cases nothing changed, and that is always possible.
            var rest = after & ~possible & ~(1UL << mode);
            possible |= after & (1UL << mode);
            if (rest is 0)
                continue;
            var reach = _paths.Reach(mode, _all, _left[i][mode], _open[i]);
            foreach (var next in In(rest))
                if (Fits(reach[next], time))
                    possible |= 1UL << next;
        }
        if (back < 0)
            return possible;
        // They can have been composed the other way round; then the module may still be where the first one saw it.
        foreach (var mode in In(after))
        {
            var reach = _paths.Reach(mode, _all, 0, _open[i]);
            foreach (var next in In(before))
                if (Fits(reach[next], back))
                    possible |= 1UL << next;
        }
        return possible;
    }

    private bool Fits(long least, long time) => least is not ModePaths.Never && least - _tolerance.EarlyUs(least) <= time;

    private bool MayHold(Condition condition, long from, long until) => HearingOf(condition)?.MayHold(condition, from, until) ?? true;

    private static IEnumerable<int> In(ulong modes)
    {
        for (var rest = modes; rest is not 0; rest &= rest - 1)
            yield return BitOperations.TrailingZeroCount(rest);
    }
}
