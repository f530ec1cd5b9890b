namespace Locum.Capture;

/// <summary>What was read from a capture, and what was odd about it.</summary>
public sealed record CaptureSummary
{
    /// <summary>Path as the user gave it.</summary>
    public required string Path { get; init; }

    public required CaptureFormat Format { get; init; }

    /// <summary>The format in a few words.</summary>
    public required string FormatText { get; init; }

    /// <summary>One entry per bus; their order is that of <see cref="CaptureFrame.Bus"/>.</summary>
    public required IReadOnlyList<BusCount> Buses { get; init; }

    /// <summary>Lines or packets in the file. Every one is an entry, or counted in an oddity that leaves it out.</summary>
    public required long Items { get; init; }

    /// <summary>What <see cref="Items"/> counts: line or packet.</summary>
    public required string ItemWord { get; init; }

    /// <summary>
    /// False when the capture has no times: <see cref="CaptureFrame.TimeNs"/> then counts entries, a microsecond each,
    /// and nothing can be said about periods.
    /// </summary>
    public required bool HasTime { get; init; }

    /// <summary>Unit and zero of the times, and how that is known.</summary>
    public required string TimeText { get; init; }

    /// <summary>Time of the first entry in nanoseconds; 0 when there is none.</summary>
    public required long FirstNs { get; init; }

    /// <summary>Time of the last entry in nanoseconds; 0 when there is none.</summary>
    public required long LastNs { get; init; }

    /// <summary>Columns of a table; empty for other formats.</summary>
    public required IReadOnlyList<CaptureColumn> Columns { get; init; }

    /// <summary>Everything odd, each kind once, by first place.</summary>
    public required IReadOnlyList<Oddity> Oddities { get; init; }

    /// <summary>Data frames on all buses.</summary>
    public long Frames => Buses.Sum(b => b.Frames);

    /// <summary>Remote frames on all buses.</summary>
    public long Remotes => Buses.Sum(b => b.Remotes);

    /// <summary>Errors on all buses.</summary>
    public long Errors => Buses.Sum(b => b.Errors);

    /// <summary>Data frames, remote frames and errors.</summary>
    public long Entries => Frames + Remotes + Errors;

    /// <summary>Lines or packets that gave no entry.</summary>
    public long LeftOut => Oddities.Where(o => o.Facts.Effect is OddityEffect.LeftOut).Sum(o => o.Count);
}
