using Locum.Capture;

namespace Locum.Tests.Unit.Capture;

/// <summary>Keeps every entry.</summary>
internal sealed class Collector : IBusSink
{
    private readonly List<string> _buses = [];

    public List<Entry> Entries { get; } = [];

    public void Bus(int number, string name)
    {
        if (number != _buses.Count)
            throw new InvalidOperationException("buses are not numbered in order");
        _buses.Add(name);
    }

    public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data) =>
        Entries.Add(new Entry(frame.TimeNs, _buses[frame.Bus], frame.Id, frame.Traits, frame.Length, Convert.ToHexString(data)));
}
