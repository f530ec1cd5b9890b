using Locum.Model;

namespace Locum.Auditing;

/// <summary>How fast a module can come from one mode to another. Sets of modes and of ways are bits; times in µs.</summary>
internal sealed class ModePaths
{
    /// <summary>More modes or ways between them than this are not followed.</summary>
    public const int Most = 64;

    public const long Never = long.MaxValue;

    // The same questions come again and again.
    private const int MostKnown = 10_000;

    private readonly Module _module;
    private readonly int _modes;
    private readonly List<Way> _ways = [];
    private readonly Dictionary<(int, ulong, long, ulong), long[]> _known = [];

    public ModePaths(Module module)
    {
        _module = module;
        _modes = module.Modes.Count;
        foreach (var mode in module.Modes)
        {
            _ways.AddRange(mode.Exits.Select(e => new Way(mode.Index, e.Then, null, e)));
            if (mode.ForUs is { } time)
                _ways.Add(new Way(mode.Index, mode.Then!.Value, time, null));
        }
        IsUsable = _modes <= Most && _ways.Count <= Most;
    }

    public bool IsUsable { get; }

    public IReadOnlyList<Way> Ways => _ways;

    /// <summary>
    /// The least time to every mode, by its index; behind those, the least time to it by way of a mode outside a set.
    /// </summary>
    /// <param name="from">The mode at the start.</param>
    /// <param name="inside">The set.</param>
    /// <param name="leftUs">What is left at least of the start mode's own time.</param>
    /// <param name="open">Ways whose conditions can hold.</param>
    public IReadOnlyList<long> Reach(int from, ulong inside, long leftUs, ulong open)
    {
        var key = (from, inside, leftUs, open);
        if (_known.TryGetValue(key, out var known))
            return known;
        if (_known.Count >= MostKnown)
            _known.Clear();
        return _known[key] = Find(from, inside, leftUs, open);
    }

    /// <summary>The least time from a mode to any outside a set.</summary>
    public long ToLeave(int from, ulong inside, long leftUs, ulong open)
    {
        var reach = Reach(from, inside, leftUs, open);
        var least = Never;
        for (var mode = 0; mode < _modes; mode++)
            if ((inside >> mode & 1) is 0)
                least = Math.Min(least, reach[mode]);
        return least;
    }

    private long[] Find(int from, ulong inside, long leftUs, ulong open)
    {
        var reach = new long[2 * _modes];
        Array.Fill(reach, Never);
        var best = new long[4 * _ways.Count];
        Array.Fill(best, Never);
        var waiting = new Queue<int>();
        var begins = (inside >> from & 1) is 0;
        Arrive(from, begins, 0);
        Leave(null, from, begins, false, 0);
        while (waiting.TryDequeue(out var state))
            Leave(_ways[state / 4], _ways[state / 4].To, (state & 1) != 0, (state & 2) != 0, best[state]);
        return reach;

        void Arrive(int mode, bool outside, long time)
        {
            reach[mode] = Math.Min(reach[mode], time);
            if (outside)
                reach[_modes + mode] = Math.Min(reach[_modes + mode], time);
        }

        void Leave(Way? arrived, int mode, bool outside, bool turned, long time)
        {
            for (var i = 0; i < _ways.Count; i++)
            {
                var way = _ways[i];
                if (way.From != mode || (open >> i & 1) is 0)
                    continue;
                var at = time + (way.ForUs is { } own ? arrived is null ? leftUs : own : turned ? Debounce(arrived!, way) : 0);
                // An input that a mode waits for alone has turned just now, unless it had turned before the mode came.
                var turns = way.Alone is { } input && (arrived is null || (turned && arrived.Alone?.Input == input.Input));
                var flag = outside || (inside >> way.To & 1) is 0;
                var state = (4 * i) + (turns ? 2 : 0) + (flag ? 1 : 0);
                if (at >= best[state])
                    continue;
                best[state] = at;
                Arrive(way.To, flag, at);
                waiting.Enqueue(state);
            }
        }
    }

    // An input that has just turned needs its debounce to turn again.
    private long Debounce(Way arrived, Way left) =>
        left.Exit!.When.OfType<InputCondition>().Any(c => c.Input == arrived.Alone!.Input && c.Active != arrived.Alone.Active)
            ? _module.Inputs[arrived.Alone!.Input].DebounceUs : 0;
}

/// <summary>A way from one mode to another.</summary>
/// <param name="ForUs">The mode's own time when that is the way; otherwise null.</param>
/// <param name="Exit">The condition when that is the way; otherwise null.</param>
internal sealed record Way(int From, int To, long? ForUs, ModeExit? Exit)
{
    /// <summary>The input that the way waits for, when it waits for nothing else.</summary>
    public InputCondition? Alone => Exit?.When is [InputCondition input] ? input : null;
}
