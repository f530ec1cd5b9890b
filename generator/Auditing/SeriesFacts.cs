using Locum.Capture;

namespace Locum.Auditing;

/// <summary>What a series of frames shows of itself, for comparison with another recording of it.</summary>
internal sealed class SeriesFacts
{
    private const double Usual = 0.5;
    private const double High = 0.95;

    public SeriesFacts(FrameSeries series)
    {
        Series = series;
        var distances = new List<long>();
        foreach (var run in series.Runs)
            for (var i = run.First + 1; i < run.End; i++)
                distances.Add(series.TimesUs[i] - series.TimesUs[i - 1]);
        distances.Sort();
        Distances = distances.Count;
        if (distances.Count is 0)
            return;
        MedianUs = distances[(int)(Usual * (distances.Count - 1))];
        var off = distances.Select(d => Math.Abs(d - MedianUs)).Order().ToList();
        JitterUs = off[(int)(High * (off.Count - 1))];
        var near = distances.Where(d => d > 0.6 * MedianUs && d < 1.4 * MedianUs).ToList();
        PeriodUs = near.Count is 0 ? MedianUs : near.Average();
    }

    public FrameSeries Series { get; }

    public int Distances { get; }

    public long MedianUs { get; }

    /// <summary>Mean of the distances near the usual one.</summary>
    public double PeriodUs { get; }

    /// <summary>What 95 of 100 distances keep to.</summary>
    public long JitterUs { get; }

    /// <summary>For a bit: how often it changed, steps that were looked at, and the most steps in a row without a change.</summary>
    public (int Changes, int Steps, int Quiet) Bit(int position)
    {
        var (changes, steps, quiet, longest) = (0, 0, 0, 0);
        for (var i = 1; i < Series.Count; i++)
        {
            if (Series.Lengths[i] <= position / 8 || Series.Lengths[i - 1] <= position / 8)
                continue;
            steps++;
            var changed = ((Series.Data(i)[position / 8] ^ Series.Data(i - 1)[position / 8]) >> (position % 8) & 1) is not 0;
            changes += changed ? 1 : 0;
            quiet = changed ? 0 : quiet + 1;
            longest = Math.Max(longest, quiet);
        }
        return (changes, steps, longest);
    }
}
