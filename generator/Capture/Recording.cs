using Locum.Wire;

namespace Locum.Capture;

/// <summary>A capture in memory, sorted by bus and identifier; what all analysis works on.</summary>
public sealed class Recording
{
    private readonly Dictionary<(int Bus, CanId Id), FrameSeries> _byId;

    internal Recording(
        IReadOnlyList<string> buses, IReadOnlyList<FrameSeries> series, IReadOnlyList<RecordingPart> parts,
        IReadOnlyList<CaptureMark> errors, IReadOnlyList<CaptureMark> remotes)
    {
        Buses = buses;
        Series = series;
        Parts = parts;
        Errors = errors;
        Remotes = remotes;
        _byId = series.ToDictionary(s => (s.Bus, s.Id));
    }

    /// <summary>Names of the buses as the capture gives them.</summary>
    public IReadOnlyList<string> Buses { get; }

    /// <summary>One series per bus and identifier, by bus, then in arbitration order.</summary>
    public IReadOnlyList<FrameSeries> Series { get; }

    /// <summary>Stretches of time without a break; at least one when there is any entry.</summary>
    public IReadOnlyList<RecordingPart> Parts { get; }

    /// <summary>Errors that the capturing controller noticed, in the order of the capture.</summary>
    public IReadOnlyList<CaptureMark> Errors { get; }

    /// <summary>Remote frames, in the order of the capture.</summary>
    public IReadOnlyList<CaptureMark> Remotes { get; }

    /// <summary>Data frames in all series.</summary>
    public long FrameCount => Series.Sum(s => (long)s.Count);

    /// <summary>Microseconds covered by all parts together.</summary>
    public long DurationUs => Parts.Sum(p => p.DurationUs);

    /// <summary>The frames of an identifier on a bus; null when there are none.</summary>
    public FrameSeries? Find(int bus, CanId id) => _byId.GetValueOrDefault((bus, id));
}
