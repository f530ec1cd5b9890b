using Locum.Capture;

namespace Locum.Cli;

/// <summary>Hands entries to two sinks.</summary>
internal sealed class BothSinks(IBusSink first, IBusSink second) : IBusSink
{
    public void Bus(int number, string name)
    {
        first.Bus(number, name);
        second.Bus(number, name);
    }

    public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data)
    {
        first.Take(frame, data);
        second.Take(frame, data);
    }
}
