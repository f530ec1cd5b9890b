using Locum.Capture;
using Locum.Model;

namespace Locum.Auditing;

/// <summary>The receptions of a frame that a module listens to, in one part of a capture.</summary>
internal sealed class Hearing
{
    private readonly List<(long TimeUs, FrameSeries Series, int Index)> _received;
    private readonly long _startUs;
    private readonly bool _unclear;
    private readonly Tolerance _tolerance;

    /// <param name="received">In order of time.</param>
    /// <param name="startUs">Where the part begins.</param>
    /// <param name="unclear">More may have been received than these.</param>
    public Hearing(ReceivedFrame row, List<(long TimeUs, FrameSeries Series, int Index)> received, long startUs, bool unclear, Tolerance tolerance)
    {
        _unclear = unclear;
        Row = row;
        _received = received;
        _startUs = startUs;
        _tolerance = tolerance;
    }

    public ReceivedFrame Row { get; }

    public int Count => _received.Count;

    public long TimeUs(int reception) => _received[reception].TimeUs;

    public ReadOnlySpan<byte> Data(int reception) => _received[reception].Series.Data(_received[reception].Index);

    /// <summary>All of them, as requests.</summary>
    /// <param name="row">Index in the module's list of received frames.</param>
    public IEnumerable<HeardRequest> Requests(int row) =>
        _received.Select(r => new HeardRequest(r.Series.Orders[r.Index], r.TimeUs, row, r.Series.Id, r.Series.Data(r.Index).ToArray()));

    public long Read(int reception, int field) => Row.Fields[field].Read(Data(reception));

    /// <summary>Index of the first reception after a time.</summary>
    public int FirstAfter(long time)
    {
        var (low, high) = (0, _received.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_received[middle].TimeUs <= time)
                low = middle + 1;
            else
                high = middle;
        }
        return low;
    }

    public Heard Over(long from, long until)
    {
        var end = FirstAfter(until);
        var current = FirstAfter(from) - 1;
        if (_unclear)
            return new Heard(true, true, Math.Max(0, current), end);
        if (current < 0)
        {
            var unknown = Row.TimeoutUs is not { } known || from < _startUs + known + _tolerance.EarlyUs(known);
            return new Heard(true, unknown, 0, end);
        }
        if (Row.TimeoutUs is not { } timeout)
            return new Heard(false, false, current, end);
        var slack = _tolerance.EarlyUs(timeout);
        var lost = false;
        for (var i = current; i < end && !lost; i++)
            lost = _received[i].TimeUs + timeout - slack <= Math.Min(until, i + 1 < _received.Count ? _received[i + 1].TimeUs : long.MaxValue);
        return new Heard(lost, false, _received[current].TimeUs + timeout + slack < from ? current + 1 : current, end);
    }

    /// <summary>True if a condition on this frame can hold at some time of a while.</summary>
    public bool MayHold(Condition condition, long from, long until)
    {
        var heard = Over(from, until);
        switch (condition)
        {
            case ReceivedCondition { There: false }:
                return heard.MayBeLost;
            case ReceivedCondition:
                return heard.MayBeThere;
            case FieldCondition field:
                for (var i = heard.First; i < heard.End; i++)
                    if (field.HoldsFor(Read(i, field.Field)))
                        return true;
                return heard.MayBeUnknown;
            default:
                return true;
        }
    }

    /// <summary>True if a condition on this frame holds all the while.</summary>
    public bool Holds(Condition condition, long from, long until)
    {
        var heard = Over(from, until);
        switch (condition)
        {
            case ReceivedCondition { There: false }:
                return !heard.MayBeThere;
            case ReceivedCondition:
                return !heard.MayBeLost && !heard.MayBeUnknown;
            case FieldCondition field when !heard.MayBeLost && !heard.MayBeUnknown:
                for (var i = heard.First; i < heard.End; i++)
                    if (!field.HoldsFor(Read(i, field.Field)))
                        return false;
                return true;
            default:
                return false;
        }
    }
}
