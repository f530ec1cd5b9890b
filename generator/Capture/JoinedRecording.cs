namespace Locum.Capture;

/// <summary>Puts several recordings behind one another as one, with breaks in time between them.</summary>
public static class JoinedRecording
{
    private const long NsPerUs = 1000;

    /// <summary>One recording with the parts of all, in their order. Buses of the same name are the same bus.</summary>
    /// <param name="recordings">At least one.</param>
    public static Recording Of(IReadOnlyList<Recording> recordings)
    {
        if (recordings.Count is 1)
            return recordings[0];
        var buses = recordings.SelectMany(r => r.Buses).Distinct(StringComparer.Ordinal).ToList();
        var builder = new RecordingBuilder();
        long next = 0;
        foreach (var recording in recordings.Where(r => r.Parts.Count > 0))
        {
            // Far enough ahead of what came before that a new part begins.
            long shift = next - recording.Parts[0].StartUs;
            next += Take(recording, builder, buses, shift) + RecordingBuilder.JumpUs + NsPerUs;
        }
        return builder.Build(buses);
    }

    // The time from the first entry to the last, parts that run back in time laid behind one another.
    private static long Take(Recording recording, RecordingBuilder builder, List<string> buses, long shift)
    {
        var entries = new List<(int Order, FrameSeries Series, int Index)>();
        foreach (var series in recording.Series)
            for (int i = 0; i < series.Count; i++)
                entries.Add((series.Orders[i], series, i));
        entries.Sort((a, b) => a.Order.CompareTo(b.Order));
        var partOf = recording.Series.ToDictionary(s => s, s => PartOf(s));
        long last = 0;
        long start = 0;
        int part = 0;
        foreach (var (_, series, index) in entries)
        {
            if (partOf[series](index) is var now && now != part)
            {
                // From one part to the next as far as a break needs.
                start = last + RecordingBuilder.JumpUs + NsPerUs;
                part = now;
            }
            long time = series.TimesUs[index] - recording.Parts[part].StartUs + start;
            last = Math.Max(last, time);
            var traits = Traits(series, index);
            builder.Take(new CaptureFrame((time + recording.Parts[0].StartUs + shift) * NsPerUs, buses.IndexOf(series.BusName), series.Id.Value, traits, series.Lengths[index]), series.Data(index));
        }
        return last;
    }

    private static Func<int, int> PartOf(FrameSeries series)
    {
        int run = 0;
        return index =>
        {
            while (index >= series.Runs[run].End)
                run++;
            return series.Runs[run].Part;
        };
    }

    private static FrameTraits Traits(FrameSeries series, int index) =>
        (series.Id.Extended ? FrameTraits.Extended : FrameTraits.None) | series.Format(index) switch
        {
            Wire.FrameFormat.Fd => FrameTraits.Fd,
            Wire.FrameFormat.FdSwitched => FrameTraits.Fd | FrameTraits.RateSwitched,
            _ => FrameTraits.None,
        };
}
