using Locum.Capture;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Tests.Unit.Capture;

/// <summary>Recordings of what the simulator sent, as a logger beside the boards would keep them.</summary>
internal static class Recordings
{
    /// <param name="frames">Frames that left a bus; others are left out.</param>
    /// <param name="buses">Names of the buses, silent ones included.</param>
    public static Recording Of(IEnumerable<SentFrame> frames, IReadOnlyList<string> buses) =>
        Of([.. frames.Where(f => f.EndUs >= 0).Select(Entry)], buses);

    /// <param name="stepUs">The logger's time step.</param>
    public static Recording Of(IReadOnlyList<LogEntry> entries, IReadOnlyList<string> buses, long stepUs = 1)
    {
        var builder = new RecordingBuilder();
        foreach (var entry in entries.OrderBy(e => e.TimeUs))
            builder.Take(new CaptureFrame(entry.TimeUs / stepUs * stepUs * 1000, buses.ToList().IndexOf(entry.Bus), entry.Id.Value, entry.Traits | (entry.Id.Extended ? FrameTraits.Extended : 0), (byte)entry.Data.Length), entry.Data);
        return builder.Build(buses);
    }

    public static LogEntry Entry(SentFrame frame) => new(frame.EndUs, frame.Bus, frame.Id, frame.Data, frame.Format switch
    {
        FrameFormat.Fd => FrameTraits.Fd,
        FrameFormat.FdSwitched => FrameTraits.Fd | FrameTraits.RateSwitched,
        _ => FrameTraits.None,
    });
}

/// <summary>A line of a log.</summary>
internal sealed record LogEntry(long TimeUs, string Bus, CanId Id, byte[] Data, FrameTraits Traits = FrameTraits.None);
