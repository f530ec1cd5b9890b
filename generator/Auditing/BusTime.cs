using Locum.Capture;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Auditing;

/// <summary>When one bus was busy in one part of a capture, from the lengths of its frames on the wire. Times in µs; a capture's time is taken as a frame's end.</summary>
internal sealed class BusTime
{
    /// <summary>Bits that an error flag, its echo, the delimiter and the intermission take at most (ISO 11898-1, from memory).</summary>
    private const int ErrorBits = 23;

    private const double HighEnd = 0.99;

    /// <summary>Frames of others that must be missing before a silence is the bus' and not the board's.</summary>
    private const double EnoughMissing = 12;

    private readonly int[] _orders;
    private readonly long[] _starts;
    private readonly long[] _busyFrom;
    private readonly long[] _ends;
    private readonly long[] _chains;
    private readonly long[] _workBefore;
    private readonly long _longest;

    private BusTime(List<(int Order, long Start, long End)> busy, List<(long FromUs, long UntilUs)> silences, long stampErrorUs, long slackUs)
    {
        StampErrorUs = stampErrorUs;
        Silences = silences;
        var silentUntil = silences.Select(s => s.UntilUs).ToHashSet();
        _orders = [.. busy.Select(b => b.Order)];
        _starts = [.. busy.Select(b => b.Start)];
        _busyFrom = [.. _starts];
        _ends = [.. busy.Select(b => b.End)];
        _chains = new long[busy.Count];
        _workBefore = new long[busy.Count + 1];
        for (var i = 0; i < busy.Count; i++)
        {
            if (i > 0)
                _ends[i] = Math.Max(_ends[i], _ends[i - 1]);
            // In a silence no frame of the board could be sent; it counts as traffic.
            if (i > 0 && silentUntil.Contains(_starts[i]))
                _busyFrom[i] = Math.Min(_starts[i], _ends[i - 1]);
            _chains[i] = i > 0 && _ends[i - 1] >= _busyFrom[i] - slackUs ? Math.Min(_busyFrom[i], _chains[i - 1]) : _busyFrom[i];
            _workBefore[i + 1] = _workBefore[i] + busy[i].End - _busyFrom[i];
            _longest = Math.Max(_longest, _ends[i] - _starts[i]);
        }
    }

    /// <summary>How far times are wrong at least, seen from frames that follow each other faster than the bus can send them, µs.</summary>
    public long StampErrorUs { get; }

    /// <summary>The longest frame on the bus, or a classic one that is as long as can be, µs.</summary>
    public long LongestUs { get; private init; }

    /// <summary>Whiles in which all other nodes were silent as well, which nobody holds against the board.</summary>
    public IReadOnlyList<(long FromUs, long UntilUs)> Silences { get; }

    /// <param name="stepUs">The capture's time step.</param>
    /// <param name="own">Identifiers of the board.</param>
    public static BusTime Of(Recording recording, int part, int bus, PlannedBus planned, long stepUs, IReadOnlySet<(int Bus, CanId Id)> own)
    {
        var busy = new List<(int Order, long Start, long End)>();
        var pause = FrameLength.TimeUs(FrameLength.IntermissionBits, planned.Rate);
        var others = 0;
        foreach (var series in recording.Series.Where(s => s.Bus == bus))
        {
            var foreign = !own.Contains((bus, series.Id));
            foreach (var run in series.Runs.Where(r => r.Part == part))
            {
                others += foreign ? run.Count : 0;
                for (var i = run.First; i < run.End; i++)
                    busy.Add((series.Orders[i], series.TimesUs[i] - Length(series.Id, series.Format(i), series.Data(i), planned), series.TimesUs[i] + pause));
            }
        }
        var span = recording.Parts[part];
        var longest = FrameLength.TimeUs(FrameLength.MaximumBits(true, 8) + ErrorBits, planned.Rate);
        foreach (var mark in recording.Errors.Concat(recording.Remotes).Where(m => m.Bus == bus && m.TimeUs >= span.StartUs && m.TimeUs <= span.EndUs))
            busy.Add((mark.Order, mark.TimeUs - longest, mark.TimeUs + FrameLength.TimeUs(ErrorBits, planned.Rate)));
        busy.Sort();
        var error = StampError(recording, busy);
        var most = busy.Select(b => b.End - b.Start).Append(longest).Max();
        return new BusTime(busy, FindSilences(busy, others / Math.Max(1.0, span.DurationUs)), error, (2 * Math.Max(stepUs, error)) + 2) { LongestUs = most };
    }

    /// <summary>Microseconds between two times in which the bus was free.</summary>
    public long Idle(long from, long until) => until <= from ? 0 : Math.Max(0, until - from - (Work(until) - Work(from)));

    /// <summary>Start of an entry of the recording, and of the uninterrupted traffic that it ends.</summary>
    public (long StartUs, long ChainUs) Start(int order)
    {
        var i = Array.BinarySearch(_orders, order);
        return (_starts[i], _chains[i]);
    }

    /// <summary>The entry behind another one; null behind the last.</summary>
    public int? Next(int order)
    {
        var i = Array.BinarySearch(_orders, order) + 1;
        return i < _orders.Length ? _orders[i] : null;
    }

    // Busy time before t. Where times are coarse, frames overlap and count in full.
    private long Work(long t)
    {
        var i = Array.BinarySearch(_ends, t);
        i = i < 0 ? ~i : i + 1;
        while (i < _ends.Length && _ends[i] <= t)
            i++;
        if (i == _ends.Length)
            return _workBefore[i];
        var work = _workBefore[i] + Math.Max(0, t - _busyFrom[i]);
        for (i++; i < _ends.Length && _ends[i] - _longest < t; i++)
            work += Math.Max(0, t - _busyFrom[i]);
        return work;
    }

    private static long Length(CanId id, FrameFormat format, ReadOnlySpan<byte> data, PlannedBus bus)
    {
        // A log may hold what no bus carries.
        var possible = id.IsValid && (format is FrameFormat.Classic ? data.Length <= 8 : FdLengths.AtLeast(data.Length) == data.Length);
        return possible ? WireLength.Of(id, format, data).TimeUs(bus.Rate, bus.DataRate) : 0;
    }

    private static List<(long FromUs, long UntilUs)> FindSilences(List<(int Order, long Start, long End)> busy, double othersPerUs)
    {
        var silences = new List<(long FromUs, long UntilUs)>();
        for (var i = 1; i < busy.Count; i++)
            if ((busy[i].Start - busy[i - 1].End) * othersPerUs >= EnoughMissing)
                silences.Add((busy[i - 1].End, busy[i].Start));
        return silences;
    }

    // Errors and remote frames are as long as they can be, so only what lies between frames tells.
    private static long StampError(Recording recording, List<(int Order, long Start, long End)> busy)
    {
        var marks = recording.Errors.Concat(recording.Remotes).Select(m => m.Order).ToHashSet();
        var late = new List<long>();
        for (var i = 1; i < busy.Count; i++)
            if (!marks.Contains(busy[i].Order) && !marks.Contains(busy[i - 1].Order))
                late.Add(Math.Max(0, busy[i - 1].End - busy[i].Start - 2));
        if (late.Count is 0)
            return 0;
        late.Sort();
        return late[(int)(HighEnd * (late.Count - 1))];
    }
}
