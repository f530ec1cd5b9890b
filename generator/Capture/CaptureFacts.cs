namespace Locum.Capture;

/// <summary>What a reader knows of a capture at its end.</summary>
/// <param name="Format">Kind of file.</param>
/// <param name="Text">The format in a few words.</param>
/// <param name="Items">Lines or packets.</param>
/// <param name="Word">line or packet.</param>
internal sealed record CaptureFacts(CaptureFormat Format, string Text, long Items, string Word)
{
    public bool HasTime { get; init; } = true;

    /// <summary>Unit of the times, and how it is known.</summary>
    public string TimeText { get; init; } = "";

    public IReadOnlyList<CaptureColumn> Columns { get; init; } = [];

    /// <summary>False when packets came that cannot be CAN, and none that can.</summary>
    public bool SawCan { get; init; } = true;
}
