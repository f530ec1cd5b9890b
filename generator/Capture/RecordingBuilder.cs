using System.Runtime.InteropServices;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>
/// Collects entries into a <see cref="Recording"/>. A step backwards by more than <see cref="BackUs"/>, or forward by
/// more than <see cref="JumpUs"/>, breaks the recording into parts; smaller steps backwards, as between the buses of
/// one log, are taken as the same instant.
/// </summary>
public sealed class RecordingBuilder : IFrameSink
{
    /// <summary>Steps backwards up to this many microseconds are jitter of the logger, not a break.</summary>
    public const long BackUs = 20_000;

    /// <summary>A silence of all buses longer than this many microseconds is a break: ten minutes.</summary>
    public const long JumpUs = 600_000_000;

    private const long NsPerUs = 1000;

    private readonly List<FrameSeries> _series = [];
    private readonly Dictionary<ulong, FrameSeries> _byKey = [];
    private readonly List<RecordingPart> _parts = [];
    private readonly List<CaptureMark> _errors = [];
    private readonly List<CaptureMark> _remotes = [];
    private long _startUs;
    private long _lastUs;
    private long _frames;
    private int _order;

    /// <summary>Adds one entry; nanoseconds are rounded to the nearest microsecond.</summary>
    public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data)
    {
        long timeUs = Microseconds(frame.TimeNs);
        if (_order is 0)
            _startUs = _lastUs = timeUs;
        else if (timeUs < _lastUs - BackUs || timeUs > _lastUs + JumpUs)
            Break(timeUs);
        _lastUs = Math.Max(_lastUs, timeUs);
        int order = _order++;
        if (!frame.IsData)
        {
            var mark = new CaptureMark(frame.Bus, _lastUs, order, frame);
            ((frame.Traits & FrameTraits.Error) != 0 ? _errors : _remotes).Add(mark);
            return;
        }

        ulong key = ((ulong)(uint)frame.Bus << 32) | frame.Id | ((frame.Traits & FrameTraits.Extended) != 0 ? 0x8000_0000u : 0);
        ref FrameSeries? series = ref CollectionsMarshal.GetValueRefOrAddDefault(_byKey, key, out _);
        if (series is null)
            _series.Add(series = new FrameSeries(frame.Bus, "", frame.CanId));
        series.Add(frame, data, _lastUs, order, _parts.Count);
        _frames++;
    }

    /// <summary>What was collected; the builder is used up.</summary>
    /// <param name="buses">Names of the buses by number, at least as many as the entries name.</param>
    public Recording Build(IReadOnlyList<string> buses)
    {
        if (_order > 0)
            _parts.Add(new RecordingPart(_startUs, _lastUs, _frames));
        foreach (var series in _series)
            series.BusName = buses[series.Bus];
        return new Recording(
            buses,
            [.. _series.OrderBy(s => s.Bus).ThenBy(s => s.Id.ArbitrationKey)],
            _parts, _errors, _remotes);
    }

    private void Break(long timeUs)
    {
        _parts.Add(new RecordingPart(_startUs, _lastUs, _frames));
        _startUs = _lastUs = timeUs;
        _frames = 0;
    }

    // Rounds to the nearest, halves up, also for times before zero.
    private static long Microseconds(long ns)
    {
        long shifted = ns + (NsPerUs / 2);
        long whole = shifted / NsPerUs;
        return shifted % NsPerUs < 0 ? whole - 1 : whole;
    }
}
