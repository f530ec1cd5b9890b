using Locum.Inference.Payload;

namespace Locum.Inference.Counting;

/// <summary>Finds counters that move with every frame: any width, any place, both byte orders, up or down, any step.</summary>
public static class CounterFinder
{
    private const int Screened = 1_500;
    private const int Widest = 32;
    private const int LeastSteps = 3;

    // The lowest bit of a counter with an odd step flips with every frame, but for the end of a round.
    private const double LeastFlips = 0.6;
    private const double LeastHits = 0.9;

    /// <summary>The counters, by place; no two share a bit.</summary>
    /// <param name="payloads">The frames.</param>
    /// <param name="taken">Bits that are known to be something else.</param>
    public static IReadOnlyList<CounterFinding> Find(Payloads payloads, Func<int, bool> taken)
    {
        int count = Math.Min(payloads.Count, Screened);
        var activity = BitActivity.Of(payloads, 0, count);
        var found = new List<CounterFinding>();
        if (activity.Pairs < LeastSteps)
            return found;
        var candidates = new List<CounterFinding>();
        for (int bit = 0; bit < activity.Bits; bit++)
            if (!taken(bit) && activity.FlipRate(bit) >= LeastFlips)
                foreach (bool big in (bool[])[false, true])
                    if (Widen(payloads, activity, bit, big, count, taken) is { } place && Judge(payloads, place) is { } finding)
                        candidates.Add(finding);
        foreach (var candidate in candidates.OrderBy(c => c.Evidence.Log10Chance).ThenBy(c => c.Place.Bits).ThenBy(c => c.Place.BigEndian))
            if (!found.Exists(f => f.Place.Meets(candidate.Place)))
                found.Add(candidate);
        return [.. found.OrderBy(f => f.Place.Bit)];
    }

    // The place at which most steps fit, the widest of equals; its highest bit changes.
    private static FieldPlace? Widen(Payloads payloads, BitActivity activity, int bit, bool big, int count, Func<int, bool> taken)
    {
        var values = new ulong[count];
        var steps = payloads.Steps[..count];
        FieldPlace? best = null;
        int most = 0;
        int position = bit;
        for (int bits = 1; bits <= Widest && position >= 0 && position < activity.Bits && !taken(position); bits++)
        {
            if (activity.Changes(position))
            {
                Add(payloads, values, position, bits - 1);
                if (CounterFit.Of(values, steps, bits) is { } fit && fit.Hits >= LeastHits * fit.Tested && fit.Hits >= most)
                    (best, most) = (new FieldPlace(bit, bits, big), fit.Hits);
            }
            else if (activity.IsSet(position))
            {
                for (int i = 0; i < count; i++)
                    values[i] |= 1UL << (bits - 1);
            }
            position = FieldPlace.Next(position, big);
        }
        // A field inside one byte has no order.
        return best is { BigEndian: true } place && place.Bits <= 8 - (place.Bit % 8) ? null : best;
    }

    private static void Add(Payloads payloads, ulong[] values, int position, int bit)
    {
        int word = position / 64;
        int shift = position % 64;
        for (int i = 0; i < values.Length; i++)
            values[i] |= (payloads.Word(i, word) >> shift & 1) << bit;
    }

    private static CounterFinding? Judge(Payloads payloads, FieldPlace place)
    {
        if (CounterFit.Of(payloads.Values(place, 0, payloads.Count), payloads.Steps, place.Bits) is not { } fit || fit.Tested < LeastSteps || fit.Hits < LeastHits * fit.Tested)
            return null;
        var evidence = CounterEvidence.Of(fit, place.Bits, payloads.Length * 8);
        // Little was seen: only what most people would choose, without any contradiction.
        bool usual = place.Bits > 1 && fit.Hits == fit.Tested && fit.Rule.Step is 1 && !fit.Rule.IsDown;
        return evidence.Log10Chance < Evidence.LikelyLog10 || usual
            ? new CounterFinding { Place = place, Rule = fit.Rule, Evidence = evidence, Rounds = fit.Rounds }
            : null;
    }
}
