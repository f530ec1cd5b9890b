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

    // After so many frames without a place the grid begins anew.
    private const int MostAstray = 8;
    private const int LongestStep = 3;

    // Frames behind a start that say when it was; later ones drift away with the clocks.
    private const int Early = 200;

    // Frames come late, never early: the earliest lie near their release. Not the very first, for the sake of rough time stamps.
    private const double Earliest = 0.1;

    private const int MostExtras = 1_000;

    private readonly List<int> _extras = [];
    private readonly List<double> _releases = [];
    private readonly List<double> _offs = [];
    private readonly List<double> _early = [];
    private readonly RowFit _row = new();
    private double _slope;
    private double _spread;
    private long _place;
    private bool _steady;
    private double _nearUs;
    private long _rowUs;

    private TimeGrid(double periodUs, int frames) => (PeriodUs, Steps) = (periodUs, new byte[frames]);

    /// <summary>The period that the places have.</summary>
    public double PeriodUs { get; }

    /// <summary>Of each frame, places since the frame before; 0 at a start, 1 for frames between places.</summary>
    public byte[] Steps { get; }

    /// <summary>Of each start the time of its first place, microseconds: what most frames behind it agree on.</summary>
    public IReadOnlyList<double> ReleasesUs => _releases;

    /// <summary>Frames on their own place, one place or more behind the frame before.</summary>
    public int Placed { get; private set; }

    /// <summary>Places without a frame.</summary>
    public int Missing { get; private set; }

    /// <summary>Frames beyond the number of places.</summary>
    public int Extra { get; private set; }

    /// <summary>Indexes of the first of those frames.</summary>
    public IReadOnlyList<int> Extras => _extras;

    /// <summary>How often the places had to be laid anew although sending went on.</summary>
    public int Lost { get; private set; }

    /// <summary>The distance of neighbouring places on which the frames agree best, microseconds: least squares over all rows.</summary>
    public double MeanUs => PeriodUs + (_spread > 0 ? _slope / _spread : 0);

    /// <summary>Of distances from one place to the next, by how much each differs from the period, microseconds, in no order.</summary>
    public IReadOnlyList<double> Offs => _offs;

    /// <summary>The half of the distances is off by no more than this, microseconds.</summary>
    public double TypicalOffUs => _offs.Count is 0 ? 0 : _offs.Select(Math.Abs).Order().ElementAt(_offs.Count / 2);

    /// <summary>Lays places over the frames.</summary>
    /// <param name="series">The frames.</param>
    /// <param name="periodUs">Distance of the places, above 0.</param>
    /// <param name="quantumUs">Step of the time stamps.</param>
    /// <param name="beginnings">Where to begin, and which frames have no places.</param>
    /// <param name="nearUs">Distances that are off by more do not count for the mean.</param>
    /// <param name="toleranceUs">How far from its place a frame may be; 0 for the usual share of the period.</param>
    public static TimeGrid Lay(FrameSeries series, double periodUs, int quantumUs, Beginnings beginnings, double nearUs = double.MaxValue, double toleranceUs = 0)
    {
        var grid = new TimeGrid(periodUs, series.Count) { _nearUs = nearUs };
        double tolerance = Math.Min(toleranceUs > 0 ? toleranceUs : Math.Max(Tolerance * periodUs, quantumUs * 1.01), 0.49 * periodUs);
        for (int i = 0; i < beginnings.Starts.Count; i++)
            grid.Lay(series.TimesUs, beginnings.Starts[i], beginnings.EndOf(series, i), tolerance, beginnings);
        return grid;
    }

    private void Lay(ReadOnlySpan<long> times, int first, int end, double tolerance, Beginnings beginnings)
    {
        int anchor = Math.Min(first + beginnings.Fast, end - 1);
        Steps.AsSpan(first + 1, anchor - first).Fill(1);
        (_place, _steady) = (0, true);
        EndRow(times[anchor]);
        _early.Add(times[anchor]);
        for (int i = anchor + 1; i < end; i++)
        {
            Steps[i] = 1;
            double distance = times[i] - times[anchor];
            double places = Math.Round(distance / PeriodUs);
            int frames = i - anchor;
            if (beginnings.Apart.Contains(i))
            {
                (anchor, _steady) = (i, false);
                EndRow(times[i]);
            }
            else if (places >= 1 && Math.Abs(distance - (places * PeriodUs)) <= tolerance)
            {
                Place(frames, (int)places, distance, i, times[i]);
                if (_steady && _early.Count < Early)
                    _early.Add(times[i] - (_place * PeriodUs));
                anchor = i;
            }
            else if (frames >= MostAstray)
            {
                Lost++;
                Extra += Math.Max(0, frames - (int)Math.Round(distance / PeriodUs));
                (anchor, _steady) = (i, false);
                EndRow(times[i]);
            }
        }
        EndRow(0);
        _early.Sort();
        _releases.Add(_early[(int)(_early.Count * Earliest)]);
        _early.Clear();
    }

    private void Place(int frames, int places, double distance, int index, long time)
    {
        _place += places;
        if (frames is 1 && places is 1)
            _offs.Add(distance - PeriodUs);
        if (frames is 1)
            Placed++;
        if (frames > places)
        {
            Extra += frames - places;
            _extras.AddRange(Enumerable.Range(index - frames + 1, frames - places).Take(MostExtras - Math.Min(MostExtras, _extras.Count)));
        }
        else
        {
            Missing += places - frames;
        }
        if (frames is 1)
            Steps[index] = (byte)Math.Min(places, byte.MaxValue);
        // A distance that is off by far more than most says little about the period.
        if (places <= LongestStep && Math.Abs(distance - (places * PeriodUs)) <= _nearUs)
            _row.Add(places, time - _rowUs);
        else
            EndRow(time);
    }

    private void EndRow(long nextUs)
    {
        var (slope, spread) = _row.Slope(PeriodUs);
        _slope += slope;
        _spread += spread;
        _row.Clear();
        _rowUs = nextUs;
    }
}
