using Locum.Model;

namespace Locum.Capture;

/// <summary>How a capture is read.</summary>
public sealed record CaptureOptions
{
    /// <summary>Everything recognised, nothing shown.</summary>
    public static CaptureOptions Default { get; } = new();

    /// <summary>What is known of a table; null to recognise everything.</summary>
    public TableLayout? Layout { get; init; }

    /// <summary>Told now and then how many bytes of the file have been read, and how many there are (0 when that is not known).</summary>
    public Action<long, long>? Progress { get; init; }
}
