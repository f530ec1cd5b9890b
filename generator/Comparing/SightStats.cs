using Locum.Capture;

namespace Locum.Comparing;

/// <summary>An identifier in one capture. Times in µs of awake bus.</summary>
internal sealed class SightStats
{
    private const double Usual = 0.5;
    private const double NearShare = 0.25;
    private const double MostlyNear = 0.8;
    private const int EnoughDistances = 4;

    /// <summary>Modules start within this time after their bus: common practice, no source. A later begin is a silence.</summary>
    private const long StartUpUs = 5_000_000;

    /// <param name="series">Null when the identifier is not in the capture.</param>
    public SightStats(FrameSeries? series, AwakeTime awake)
    {
        Series = series;
        Awake = awake;
        if (series is null)
        {
            LongestSilenceUs = awake.TotalUs;
            return;
        }
        var distances = new List<long>();
        var first = awake.At(series.Runs[0].Part, series.TimesUs[series.Runs[0].First]);
        StartUs = first <= StartUpUs ? first : 0;
        var before = StartUs;
        foreach (var run in series.Runs)
            for (var i = run.First; i < run.End; i++)
            {
                var now = awake.At(run.Part, series.TimesUs[i]);
                LongestSilenceUs = Math.Max(LongestSilenceUs, now - before);
                before = now;
                if (i > run.First)
                    distances.Add(series.TimesUs[i] - series.TimesUs[i - 1]);
            }
        LongestSilenceUs = Math.Max(LongestSilenceUs, awake.TotalUs - before);
        distances.Sort();
        Distances = distances;
        if (distances.Count < EnoughDistances)
            return;
        var middle = distances[(int)(Usual * (distances.Count - 1))];
        var near = distances.Where(d => Math.Abs(d - middle) <= NearShare * middle).ToList();
        if (near.Count >= MostlyNear * distances.Count)
            PeriodUs = near.Average();
    }

    public FrameSeries? Series { get; }

    public AwakeTime Awake { get; }

    public int Count => Series?.Count ?? 0;

    /// <summary>From the begin of the capture to the first frame, as far as that is a start-up.</summary>
    public long StartUs { get; }

    /// <summary>The longest time without it behind the start, to the end of the capture as well.</summary>
    public long LongestSilenceUs { get; }

    /// <summary>Distances between neighbours, sorted.</summary>
    public IReadOnlyList<long> Distances { get; } = [];

    /// <summary>Mean of the usual distances; null when it does not come by a period.</summary>
    public double? PeriodUs { get; }
}
