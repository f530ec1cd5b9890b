using Locum.Capture;
using Locum.Model;
using Locum.Planning;

namespace Locum.Auditing;

/// <summary>A frame of the description and where it was seen in one part of a capture.</summary>
internal sealed class FrameTrack
{
    private const int MostNested = 4;

    private readonly FrameSeries? _series;
    private readonly List<Gap> _gaps = [];
    private readonly List<(long FromUs, long UntilUs)> _held = [];
    private bool _sorted = true;

    public FrameTrack(PlannedFrame planned, FrameSeries? series, BusTime? bus, int part, Tolerance tolerance)
    {
        Planned = planned;
        _series = series;
        Bus = bus;
        Modes = planned.Frame.Modes.Aggregate(0UL, (set, mode) => set | 1UL << mode);
        if (series is null || bus is null)
            return;
        // Others may claim a node's address.
        var name = planned.Frame.IsNode ? OwnIdentifiers.Node(planned).NameBytes() : null;
        foreach (var run in series.Runs.Where(r => r.Part == part))
            for (var i = run.First; i < run.End; i++)
            {
                if (name is not null && !series.Data(i).SequenceEqual(name))
                    continue;
                var (start, chain) = bus.Start(series.Orders[i]);
                var released = Math.Min(chain, start) - Tolerance.BoardUs - tolerance.StampUs;
                var free = Seen.Count > 0 ? series.TimesUs[i - 1] - tolerance.StampUs : long.MinValue;
                Seen.Add(new Seen(i, start, released, Math.Min(Math.Max(released, free), start), start + tolerance.StampUs));
            }
    }

    public PlannedFrame Planned { get; }

    public Frame Frame => Planned.Frame;

    /// <summary>The traffic of its bus; null when the capture does not have the bus.</summary>
    public BusTime? Bus { get; }

    /// <summary>Modes in which it is sent, as a set of bits.</summary>
    public ulong Modes { get; }

    public List<Seen> Seen { get; } = [];

    /// <summary>Where releases are missing.</summary>
    public IReadOnlyList<Gap> Gaps => _gaps;

    /// <summary>Places in <see cref="Seen"/> whose counter moved too far.</summary>
    public HashSet<int> Slipped { get; } = [];

    /// <summary>Places whose counter did not move.</summary>
    public HashSet<int> Repeated { get; } = [];

    /// <summary>Places whose checksum is wrong.</summary>
    public HashSet<int> Wrong { get; } = [];

    /// <summary>The period and nothing else releases it, so no release comes before its offset has passed.</summary>
    public bool IsPlain => Frame.IsCyclic && Frame.Events is null;

    /// <summary>The longest distance between two releases while it sends, µs; an event may come before the first one by period.</summary>
    public long LongestUs => Math.Max(Math.Max(Frame.PeriodUs, Frame.Burst?.PeriodUs ?? 0), Frame.Events is null ? 0 : Frame.OffsetUs);

    public void Add(Gap gap)
    {
        _gaps.Add(gap);
        _sorted = false;
    }

    /// <summary>Whiles in which its J1939 node has no address, so it is not sent (rule J3).</summary>
    public void Hold(IEnumerable<(long FromUs, long UntilUs)> whiles) => _held.AddRange(whiles);

    /// <summary>When it is due in spite of its node: behind the last while without an address in between.</summary>
    public long Free(long due, long until)
    {
        foreach (var (from, end) in _held)
            if (from < until && end > due - LongestUs)
                due = Math.Max(due, end + LongestUs);
        return due;
    }

    /// <summary>True if its node had no address at some time of a while.</summary>
    public bool IsHeld(long from, long until) => _held.Exists(h => h.FromUs <= until && h.UntilUs >= from);

    /// <summary>Frames that may be missing between two times.</summary>
    public int MissedBetween(long from, long until)
    {
        if (_gaps.Count is 0)
            return 0;
        if (!_sorted)
            _gaps.Sort((a, b) => a.UntilUs.CompareTo(b.UntilUs));
        _sorted = true;
        var (low, high) = (0, _gaps.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_gaps[middle].UntilUs <= from)
                low = middle + 1;
            else
                high = middle;
        }
        // What is behind the first gap that begins later lies behind it altogether, but for gaps at the ends of stays.
        var missed = 0;
        for (var later = 0; low < _gaps.Count && later < MostNested; low++)
        {
            if (_gaps[low].FromUs < until)
                missed += _gaps[low].Missed + 1;
            else
                later++;
        }
        return missed;
    }

    public ReadOnlySpan<byte> Data(in Seen seen) => _series!.Data(seen.Index);

    /// <summary>Its number among all entries of the recording.</summary>
    public int Order(in Seen seen) => _series!.Orders[seen.Index];

    public long EndUs(in Seen seen) => _series!.TimesUs[seen.Index];

    public Wire.FrameFormat Format(in Seen seen) => _series!.Format(seen.Index);

    /// <summary>Index of the first frame that starts at a time or later.</summary>
    public int FirstFrom(long time)
    {
        var (low, high) = (0, Seen.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (Seen[middle].StartUs < time)
                low = middle + 1;
            else
                high = middle;
        }
        return low;
    }
}
