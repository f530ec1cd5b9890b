namespace Locum.Inference.Timing;

/// <summary>Fits a straight line through the times of frames in a row, of which the first lies at place and time 0.</summary>
internal sealed class RowFit
{
    private readonly List<(double Place, double TimeUs)> _points = [(0, 0)];

    /// <summary>Adds a frame some places behind the one before.</summary>
    public void Add(int places, double timeUs) => _points.Add((_points[^1].Place + places, timeUs));

    /// <summary>Begins a new row.</summary>
    public void Clear() => _points.RemoveRange(1, _points.Count - 1);

    /// <summary>By how much the slope differs from a period, times the spread of the places; and that spread. Rows add up.</summary>
    public (double Slope, double Spread) Slope(double periodUs)
    {
        double places = 0;
        double rests = 0;
        foreach (var (place, time) in _points)
            (places, rests) = (places + place, rests + (time - (place * periodUs)));
        double meanPlace = places / _points.Count;
        double meanRest = rests / _points.Count;
        double slope = 0;
        double spread = 0;
        foreach (var (place, time) in _points)
        {
            slope += (place - meanPlace) * (time - (place * periodUs) - meanRest);
            spread += (place - meanPlace) * (place - meanPlace);
        }
        return (slope, spread);
    }
}
