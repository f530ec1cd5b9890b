using Locum.Capture;

namespace Locum.Inference.Relations;

/// <summary>Which frame of another series came last before a moment.</summary>
internal static class LastBefore
{
    /// <summary>Index of the last frame of a part that came before a time, or -1.</summary>
    /// <param name="series">Where to look.</param>
    /// <param name="part">Part of the recording; frames of others do not count.</param>
    /// <param name="timeUs">The moment.</param>
    /// <param name="order">Number of the entry that marks the moment; of frames with the same time those before it count.</param>
    public static int Index(FrameSeries series, int part, long timeUs, int order)
    {
        foreach (var run in series.Runs)
        {
            if (run.Part != part)
                continue;
            var times = series.TimesUs.Slice(run.First, run.Count);
            int low = 0;
            int high = run.Count;
            while (low < high)
            {
                int middle = (low + high) / 2;
                if (times[middle] < timeUs || (times[middle] == timeUs && series.Orders[run.First + middle] < order))
                    low = middle + 1;
                else
                    high = middle;
            }
            return low is 0 ? -1 : run.First + low - 1;
        }
        return -1;
    }
}
