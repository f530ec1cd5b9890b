using Locum.Capture;
using Locum.Inference.Counting;
using Locum.Inference.Payload;
using Locum.Inference.Timing;
using Locum.Inference.Values;

namespace Locum.Inference.Relations;

/// <summary>Lists what in a series others may follow: groups of bits, bytes and words, each cut to the bits that change.</summary>
public static class SourceFields
{
    private const int Looked = 20_000;

    /// <summary>The fields of a series. Counters are left out: they move with time, as other counters do.</summary>
    public static IReadOnlyList<SourceField> Of(FrameSeries series)
    {
        var payloads = Payloads.Of(series, SteadyNumber.StepsByRun(series));
        if (payloads.Count < 2)
            return [];
        var activity = BitActivity.Of(payloads, 0, Math.Min(payloads.Count, Looked));
        var counting = CounterFinder.Find(payloads, _ => false).Where(c => c.Confidence is not Confidence.Possible).SelectMany(c => c.Place.Positions()).ToHashSet();
        var places = new HashSet<FieldPlace>(BitGroups.Of(activity, b => !counting.Contains(b)));
        for (int first = 0; first < payloads.Length; first++)
        {
            Add(new FieldPlace(first * 8, 8));
            if (first + 1 < payloads.Length)
            {
                Add(new FieldPlace(first * 8, 16));
                Add(new FieldPlace((first + 1) * 8, 16, true));
            }
        }
        return [.. places.Select(p => new SourceField(series, p))];

        void Add(FieldPlace place)
        {
            var positions = place.Positions().ToList();
            int low = positions.FindIndex(p => activity.Changes(p));
            int high = positions.FindLastIndex(p => activity.Changes(p));
            if (low < 0 || positions.GetRange(low, high - low + 1).Exists(counting.Contains))
                return;
            var cut = new FieldPlace(positions[low], high - low + 1, place.BigEndian);
            places.Add(cut.Bits <= 8 - (cut.Bit % 8) ? cut with { BigEndian = false } : cut);
        }
    }
}
