using Locum.Capture;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Tests.Unit.Inference;

/// <summary>Recordings made up by tests: nothing in them was ever captured.</summary>
internal sealed class Synthetic
{
    private readonly List<(double TimeUs, string Bus, CanId Id, FrameFormat Format, byte[] Data)> _frames = [];

    /// <summary>Adds a frame.</summary>
    public Synthetic Add(double timeUs, uint id, params byte[] data) => AddOn("body", timeUs, id, data);

    /// <summary>Adds a frame on a bus.</summary>
    public Synthetic AddOn(string bus, double timeUs, uint id, byte[] data)
    {
        _frames.Add((timeUs, bus, new CanId(id, id > CanId.MaxStandard), FrameFormat.Classic, data));
        return this;
    }

    /// <summary>Adds frames at even distances.</summary>
    /// <param name="id">Identifier.</param>
    /// <param name="count">How many.</param>
    /// <param name="periodUs">Distance.</param>
    /// <param name="data">The payload of each.</param>
    /// <param name="firstUs">Time of the first.</param>
    /// <param name="jitter">Added to each time.</param>
    /// <param name="lost">True for frames that the logger missed.</param>
    public Synthetic Every(uint id, int count, double periodUs, Func<int, byte[]> data, double firstUs = 0, Func<int, double>? jitter = null, Func<int, bool>? lost = null)
    {
        for (int i = 0; i < count; i++)
            if (lost?.Invoke(i) is not true)
                Add(firstUs + (i * periodUs) + (jitter?.Invoke(i) ?? 0), id, data(i));
        return this;
    }

    /// <summary>The recording, frames in order of time.</summary>
    public Recording Record() => Record(_frames.OrderBy(f => f.TimeUs));

    /// <summary>The series of an identifier in the recording.</summary>
    public FrameSeries Series(uint id = 0x100) => Record().Series.Single(s => s.Id.Value == id);

    /// <summary>What the simulator's frames look like to a logger that stamps the end of each.</summary>
    public static Recording Of(IEnumerable<SentFrame> frames) =>
        Record(frames.Where(f => f.EndUs >= 0).Select(f => ((double)f.EndUs, f.Bus, f.Id, f.Format, f.Data)));

    private static Recording Record(IEnumerable<(double TimeUs, string Bus, CanId Id, FrameFormat Format, byte[] Data)> frames)
    {
        var builder = new RecordingBuilder();
        var buses = new List<string>();
        foreach (var (time, bus, id, format, data) in frames)
        {
            if (!buses.Contains(bus))
                buses.Add(bus);
            var traits = (id.Extended ? FrameTraits.Extended : 0) | (format is FrameFormat.Classic ? 0 : FrameTraits.Fd) | (format is FrameFormat.FdSwitched ? FrameTraits.RateSwitched : 0);
            builder.Take(new CaptureFrame((long)(time * 1000), buses.IndexOf(bus), id.Value, traits, (byte)data.Length), data);
        }
        return builder.Build(buses);
    }
}
