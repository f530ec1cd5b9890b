using Locum.Capture;

namespace Locum.Inference.Timing;

/// <summary>
/// Even places in time, laid over the frames of a series anew wherever sending begins: which frame lies on which place,
/// which places are empty, which frames lie between.
/// </summary>
internal sealed class TimeGrid
{
    /// <summary>A frame this far from its place, as a share of the period, still belongs to it.</summary>
    public const double Tolerance = 0.3;

    // More places without a frame than this, and longer than that, are silence.
    private const int SilentPlaces = 10;
    private const double SilentUs = 1_000_000;

    // After so many frames without a place the grid begins anew.
    private const int MostAstray = 8;
    private const int LongestStep = 3;

    // Frames behind a start that say when it was; later ones drift away with the clocks.
    private const int Early = 200;

    // Frames come late, never early: the earliest lie near their release. Not the very first, for the sake of rough time stamps.
    private const double Earliest = 0.1;

    private readonly List<int> _starts = [];
    private readonly List<double> _releases = [];
    private readonly List<double> _offs = [];
    private readonly List<double> _early = [];
    private double _time;
    private long _places;
    private long _place;
    private bool _steady;

    private TimeGrid(double periodUs, int frames) => (PeriodUs, Steps) = (periodUs, new byte[frames]);

    /// <summary>The period that the places have.</summary>
    public double PeriodUs { get; }

    /// <summary>Of each frame, places since the frame before; 0 at a start, 1 for frames between places.</summary>
    public byte[] Steps { get; }

    /// <summary>Indexes of the frames with which sending begins.</summary>
    public IReadOnlyList<int> Starts => _starts;

    /// <summary>Of each start the time of its first place, microseconds: what most frames behind it agree on.</summary>
    public IReadOnlyList<double> ReleasesUs => _releases;

    /// <summary>Frames on their own place, one place or more behind the frame before.</summary>
    public int Placed { get; private set; }

    /// <summary>Places without a frame.</summary>
    public int Missing { get; private set; }

    /// <summary>Frames beyond the number of places.</summary>
    public int Extra { get; private set; }

    /// <summary>How often the places had to be laid anew although sending went on.</summary>
    public int Lost { get; private set; }

    /// <summary>The mean distance of neighbouring places as the frames show it, microseconds.</summary>
    public double MeanUs => _places > 0 ? _time / _places : PeriodUs;

    /// <summary>Of distances from one place to the next, by how much each differs from the period, microseconds, in no order.</summary>
    public IReadOnlyList<double> Offs => _offs;

    /// <summary>Lays places over the frames.</summary>
    /// <param name="series">The frames.</param>
    /// <param name="periodUs">Distance of the places, above 0.</param>
    /// <param name="quantumUs">Step of the time stamps.</param>
    /// <param name="skip">Frames that come fast at a start and have no places; by index of the start.</param>
    public static TimeGrid Lay(FrameSeries series, double periodUs, int quantumUs, Func<int, int> skip)
    {
        var grid = new TimeGrid(periodUs, series.Count);
        double tolerance = Math.Min(Math.Max(Tolerance * periodUs, quantumUs * 1.01), 0.49 * periodUs);
        double silence = Math.Max(SilentPlaces * periodUs, SilentUs);
        foreach (var run in series.Runs)
            grid.Lay(series.TimesUs, run, tolerance, silence, skip);
        grid.EndStart();
        return grid;
    }

    private void Lay(ReadOnlySpan<long> times, Run run, double tolerance, double silence, Func<int, int> skip)
    {
        int anchor = Start(times, run.First, run.End, skip);
        for (int i = anchor + 1; i < run.End; i++)
        {
            if (times[i] - times[i - 1] > silence)
            {
                anchor = i = Start(times, i, run.End, skip);
                continue;
            }
            Steps[i] = 1;
            double distance = times[i] - times[anchor];
            double places = Math.Round(distance / PeriodUs);
            int frames = i - anchor;
            if (places >= 1 && Math.Abs(distance - (places * PeriodUs)) <= tolerance)
            {
                Place(frames, (int)Math.Min(places, int.MaxValue), distance, i);
                _place += (long)places;
                if (_steady && _early.Count < Early)
                    _early.Add(times[i] - (_place * PeriodUs));
                anchor = i;
            }
            else if (frames >= MostAstray)
            {
                Lost++;
                _steady = false;
                Extra += Math.Max(0, frames - (int)Math.Round(distance / PeriodUs));
                anchor = i;
            }
        }
    }

    private int Start(ReadOnlySpan<long> times, int first, int end, Func<int, int> skip)
    {
        EndStart();
        _starts.Add(first);
        _place = 0;
        _steady = true;
        int last = Math.Min(first + skip(first), end - 1);
        for (int i = first + 1; i <= last; i++)
            Steps[i] = 1;
        _early.Add(times[last]);
        return last;
    }

    private void EndStart()
    {
        if (_early.Count is 0)
            return;
        _early.Sort();
        _releases.Add(_early[(int)(_early.Count * Earliest)]);
        _early.Clear();
    }

    private void Place(int frames, int places, double distance, int index)
    {
        if (frames is 1 && places is 1)
            _offs.Add(distance - PeriodUs);
        if (frames is 1)
            Placed++;
        if (frames > places)
            Extra += frames - places;
        else
            Missing += places - frames;
        if (frames is 1)
            Steps[index] = (byte)Math.Min(places, byte.MaxValue);
        if (places <= LongestStep)
        {
            _time += distance;
            _places += places;
        }
    }
}
