using Locum.Inference.Payload;

namespace Locum.Inference.Counting;

/// <summary>Finds counters that several identifiers share: only all their frames together count evenly.</summary>
public static class SharedCounterFinder
{
    private const double LeastHits = 0.9;
    private const int MostLower = 2;
    private const int Widest = 16;
    private const int FarthestStep = 8;
    private const double Ragged = 0.98;

    /// <summary>A counter that two series move together.</summary>
    /// <param name="A">The field in the first series.</param>
    /// <param name="B">The field in the second series.</param>
    /// <param name="Rule">How it counts.</param>
    /// <param name="Evidence">Steps of both.</param>
    /// <param name="Alternate">The two come strictly in turn, so that two counters of their own would look the same.</param>
    public readonly record struct Shared(FieldPlace A, FieldPlace B, CounterRule Rule, Evidence Evidence, bool Alternate);

    /// <summary>The counter that two series share; null when there is none.</summary>
    /// <param name="a">Frames of the first series.</param>
    /// <param name="candidatesA">Places in them that may count.</param>
    /// <param name="b">Frames of the second series.</param>
    /// <param name="candidatesB">Places in them.</param>
    public static Shared? Find(Payloads a, IReadOnlyList<FieldPlace> candidatesA, Payloads b, IReadOnlyList<FieldPlace> candidatesB)
    {
        var order = Merge(a, b);
        Shared? best = null;
        foreach (var placeA in candidatesA)
            foreach (var placeB in candidatesB)
                if (placeA.Bits == placeB.Bits && Judge(a, placeA, b, placeB, order, candidatesA.Count * candidatesB.Count) is { } found
                    && (best is null || found.Evidence.Log10Chance < best.Value.Evidence.Log10Chance))
                    best = found;
        return best;
    }

    /// <summary>Places that may be counters of which a series shows only some values: those found, wider at their lower end, and ragged ones.</summary>
    public static IReadOnlyList<FieldPlace> Candidates(Payloads payloads, BitActivity activity, IReadOnlyList<CounterFinding> found, Func<int, bool> taken)
    {
        var places = new List<FieldPlace>();
        foreach (var counter in found.Where(c => c.Every is 1))
            for (int lower = 1; lower <= MostLower && counter.Place.Bit % 8 >= lower; lower++)
                places.Add(counter.Place with { Bit = counter.Place.Bit - lower, Bits = counter.Place.Bits + lower });
        for (int bit = 0; bit < activity.Bits; bit++)
        {
            if (taken(bit) || activity.Flips(bit) is 0)
                continue;
            for (int bits = Widest; bits >= 3; bits--)
            {
                var place = new FieldPlace(bit, bits);
                if (place.IsInside(payloads.Length) && !place.Positions().Any(taken) && activity.Changes(bit + bits - 1) && GrowsRaggedly(payloads, place))
                {
                    places.Add(place);
                    break;
                }
            }
        }
        return places;
    }

    // Always forward, by one to a few.
    private static bool GrowsRaggedly(Payloads payloads, FieldPlace place)
    {
        ulong mask = (1UL << place.Bits) - 1;
        int tested = 0;
        int hits = 0;
        for (int i = 1; i < payloads.Count; i++)
        {
            if (payloads.Steps[i] != 1)
                continue;
            tested++;
            ulong distance = (place.Read(payloads.Data(i)) - place.Read(payloads.Data(i - 1))) & mask;
            hits += distance is >= 1 and <= FarthestStep ? 1 : 0;
        }
        return tested > 8 && hits >= Ragged * tested && FarthestStep * 2 <= (int)Math.Min(mask, int.MaxValue);
    }

    // Both series' frames by time: which series, which frame.
    private static List<(bool First, int Frame)> Merge(Payloads a, Payloads b)
    {
        var order = new List<(bool, int)>(a.Count + b.Count);
        int i = 0;
        int k = 0;
        while (i < a.Count || k < b.Count)
        {
            bool first = k == b.Count || (i < a.Count && a.TimeUs(i) <= b.TimeUs(k));
            order.Add((first, first ? i++ : k++));
        }
        return order;
    }

    private static Shared? Judge(Payloads a, FieldPlace placeA, Payloads b, FieldPlace placeB, List<(bool First, int Frame)> order, int tried)
    {
        var values = new ulong[order.Count];
        var steps = new byte[order.Count];
        int turns = 0;
        for (int i = 0; i < order.Count; i++)
        {
            var (first, frame) = order[i];
            values[i] = first ? placeA.Read(a.Data(frame)) : placeB.Read(b.Data(frame));
            // Next to each other only when neither series misses a frame here.
            byte own = first ? a.Steps[frame] : b.Steps[frame];
            steps[i] = i > 0 && own <= 1 ? (byte)1 : Payloads.Apart;
            turns += i > 0 && first != order[i - 1].First ? 1 : 0;
        }
        if (CounterFit.Of(values, steps, placeA.Bits) is not { } fit || fit.Hits < LeastHits * fit.Tested || fit.Rule.Step != 1)
            return null;
        var evidence = CounterEvidence.Of(fit, placeA.Bits, a.Length * 8, Math.Log10(Math.Max(1, tried)));
        bool alternate = turns >= (order.Count - 1) * LeastHits;
        return evidence.Log10Chance < Evidence.LikelyLog10 ? new Shared(placeA, placeB, fit.Rule, evidence, alternate) : null;
    }
}
