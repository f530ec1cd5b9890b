namespace Locum.Capture;

/// <summary>Takes a capture's entries one by one, in the order of the file.</summary>
public interface IFrameSink
{
    /// <summary>One entry.</summary>
    /// <param name="frame">What it is.</param>
    /// <param name="data">Its payload; empty for remote frames and errors. Valid during the call only.</param>
    void Take(in CaptureFrame frame, ReadOnlySpan<byte> data);
}
