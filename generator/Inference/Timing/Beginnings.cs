using Locum.Capture;

namespace Locum.Inference.Timing;

/// <summary>Where sending begins, and where another period than the main one holds.</summary>
/// <param name="Starts">Indexes of first frames, rising.</param>
/// <param name="Fast">Frames behind each first one that come faster.</param>
/// <param name="Apart">Indexes of frames that belong to other periods.</param>
internal sealed record Beginnings(IReadOnlyList<int> Starts, int Fast, IReadOnlySet<int> Apart)
{
    // More places without a frame than this, and longer than that, are silence.
    private const int SilentPlaces = 10;
    private const double SilentUs = 1_000_000;

    // A pause before which the same fast frames come again.
    private const double Pause = 1.3;
    private const double Alike = 0.3;
    private const double MostFast = 0.7;

    /// <summary>Starts behind breaks and long silence.</summary>
    public static Beginnings BehindSilence(FrameSeries series, double periodUs)
    {
        double silence = Math.Max(SilentPlaces * periodUs, SilentUs);
        var starts = new List<int>();
        foreach (var run in series.Runs)
            for (int i = run.First; i < run.End; i++)
                if (i == run.First || series.TimesUs[i] - series.TimesUs[i - 1] > silence)
                    starts.Add(i);
        return new Beginnings(starts, 0, new HashSet<int>());
    }

    /// <summary>With a fast beginning, which also behind a shorter pause is one.</summary>
    public Beginnings WithBurst(FrameSeries series, double periodUs, int fast, long fastUs)
    {
        if (fast is 0)
            return this;
        var times = series.TimesUs;
        var starts = new SortedSet<int>(Starts);
        for (int i = 1; i + fast < series.Count; i++)
        {
            bool begins = times[i] - times[i - 1] >= Pause * periodUs;
            for (int k = 1; begins && k <= fast; k++)
                begins = Math.Abs(times[i + k] - times[i + k - 1] - fastUs) <= Alike * fastUs;
            if (begins)
                starts.Add(i);
        }
        // What comes fast all the time is no beginning.
        return starts.Count > 1 && (fast + 1) * starts.Count > MostFast * series.Count ? this : this with { Starts = [.. starts], Fast = fast };
    }

    /// <summary>Index behind the frames that a start leads to.</summary>
    public int EndOf(FrameSeries series, int number) =>
        Math.Min(number + 1 < Starts.Count ? Starts[number + 1] : series.Count, series.Runs.First(r => Starts[number] < r.End).End);
}
