using Locum.Capture;

namespace Locum.Benchmarks;

/// <summary>Counts entries and does nothing else.</summary>
internal sealed class CountingSink : IFrameSink
{
    public long Entries { get; private set; }

    public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data) => Entries++;
}
