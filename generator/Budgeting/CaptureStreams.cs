using Locum.Capture;
using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>
/// Frames of a capture as streams that every frame seen keeps to: the mean distance, and as jitter how much sooner
/// than that any frame came after any one before it.
/// </summary>
internal static class CaptureStreams
{
    /// <param name="recordings">Captures of the bus; of an identifier in several the more demanding counts.</param>
    /// <param name="bus">Name of the bus.</param>
    /// <param name="rate">Its bit rate.</param>
    /// <param name="dataRate">Its data rate; null on a classic bus.</param>
    /// <param name="alone">The boards are on no other bus.</param>
    /// <param name="own">Identifiers of the boards, which are described already.</param>
    public static IEnumerable<BusArrivals> Of(IReadOnlyList<Recording> recordings, string bus, int rate, int? dataRate, bool alone, IReadOnlySet<CanId> own) => recordings
        .SelectMany(r => SeriesOn(r, bus, alone).Where(s => !own.Contains(s.Id)).Select(s => Stream(s, r, rate, dataRate)))
        .GroupBy(s => s.Id).Select(g => g.MaxBy(s => s.WorstLoad + ((double)s.JitterUs / s.PeriodUs))!);

    /// <summary>Series on the bus of that name. Where there is one bus on both sides, its name does not matter.</summary>
    public static IEnumerable<FrameSeries> SeriesOn(Recording recording, string bus, bool alone) =>
        alone && recording.Buses.Count is 1 ? recording.Series : recording.Series.Where(s => s.BusName == bus);

    private static BusArrivals Stream(FrameSeries series, Recording recording, int rate, int? dataRate)
    {
        var format = Enumerable.Range(0, series.Count).Max(series.Format);
        var longest = WireLength.Maximum(format, series.Id.Extended, series.LongestLength);
        double mean = 0;
        for (var i = 0; i < series.Count; i++)
            mean += WireLength.Of(series.Id, series.Format(i), series.Data(i)).WithIntermission.TimeUs(rate, dataRate);
        var period = Period(series, recording);
        var slot = longest.WithIntermission.TimeUs(rate, dataRate);
        return new BusArrivals
        {
            Name = "",
            Id = series.Id,
            PeriodUs = Math.Max(slot, (long)period),
            JitterUs = Earliness(series, Math.Max(slot, (long)period)),
            DeadlineUs = Math.Max(slot, (long)period),
            WireUs = longest.TimeUs(rate, dataRate),
            SlotUs = slot,
            MeanSlotUs = mean / series.Count,
            MeanPeriodUs = Math.Max(1, recording.DurationUs / (double)series.Count),
            Basis = StreamBasis.Seen,
        };
    }

    // Mean distance inside runs; a frame that came once counts once per recording.
    private static double Period(FrameSeries series, Recording recording)
    {
        long time = 0, steps = 0;
        foreach (var run in series.Runs)
        {
            time += series.TimesUs[run.End - 1] - series.TimesUs[run.First];
            steps += run.Count - 1;
        }
        return steps > 0 ? (double)time / steps : Math.Max(1, recording.DurationUs);
    }

    private static long Earliness(FrameSeries series, long period)
    {
        long most = 0;
        foreach (var run in series.Runs)
        {
            var latest = long.MinValue;
            for (var i = 0; i < run.Count; i++)
            {
                var place = series.TimesUs[run.First + i] - (i * period);
                latest = Math.Max(latest, place);
                most = Math.Max(most, latest - place);
            }
        }
        return most;
    }
}
