using Locum.Capture;

namespace Locum.Comparing;

/// <summary>When a bus of a capture was awake. Times in µs.</summary>
internal sealed class AwakeTime
{
    /// <summary>A bus sleeps when nothing was sent for so long: common practice, no source.</summary>
    public const long AsleepUs = 2_000_000;

    private readonly List<(int Part, long From, long Until, long Before)> _awake = [];

    public AwakeTime(Recording recording, int bus)
    {
        for (var part = 0; part < recording.Parts.Count; part++)
        {
            var times = recording.Series.Where(s => s.Bus == bus)
                .SelectMany(s => s.Runs.Where(r => r.Part == part).SelectMany(r => s.TimesUs[r.First..r.End].ToArray())).Order().ToList();
            for (var i = 0; i < times.Count; i++)
            {
                if (i > 0 && times[i] - times[i - 1] <= AsleepUs)
                    _awake[^1] = _awake[^1] with { Until = times[i] };
                else
                    _awake.Add((part, times[i], times[i], TotalUs));
            }
        }
    }

    /// <summary>All of it.</summary>
    public long TotalUs => _awake.Count is 0 ? 0 : _awake[^1].Before + _awake[^1].Until - _awake[^1].From;

    /// <summary>Awake time from the begin of the capture to a time of a part.</summary>
    public long At(int part, long time)
    {
        foreach (var span in _awake)
            if (span.Part == part && time <= span.Until)
                return span.Before + Math.Max(0, time - span.From);
        var last = _awake.FindLast(s => s.Part <= part);
        return last.Before + last.Until - last.From;
    }

    /// <summary>First frame of the waking that a time of a part belongs to; null when the capture began with it.</summary>
    public long? WokeUs(int part, long time)
    {
        for (var i = 0; i < _awake.Count; i++)
            if (_awake[i].Part == part && time >= _awake[i].From && time <= _awake[i].Until)
                return _awake[i].From;
        return null;
    }
}
