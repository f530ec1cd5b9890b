using Locum.Inference.Payload;

namespace Locum.Inference.Counting;

/// <summary>Finds counters that move with every n-th frame.</summary>
public static class SlowCounterFinder
{
    private const int Slowest = 255;
    private const int Widest = 32;
    private const int LeastSteps = 5;
    private const double Regular = 0.8;
    private const double LeastHits = 0.9;

    // Any number of frames per step could have been tried.
    private const double Log10Rates = 2.4;

    /// <summary>The counters, by place; no two share a bit.</summary>
    /// <param name="payloads">The frames.</param>
    /// <param name="activity">Their bits.</param>
    /// <param name="taken">Bits that are known to be something else.</param>
    public static IReadOnlyList<CounterFinding> Find(Payloads payloads, BitActivity activity, Func<int, bool> taken)
    {
        var candidates = new List<CounterFinding>();
        for (int bit = 0; bit < activity.Bits; bit++)
            if (!taken(bit) && activity.Flips(bit) >= LeastSteps && Rate(payloads, bit) is { } every)
                foreach (bool big in (bool[])[false, true])
                    if (Widen(payloads, activity, bit, big, every, taken) is { } finding)
                        candidates.Add(finding);
        var found = new List<CounterFinding>();
        foreach (var candidate in candidates.OrderBy(c => c.Evidence.Log10Chance).ThenBy(c => c.Place.BigEndian))
            if (!found.Exists(f => f.Place.Meets(candidate.Place)))
                found.Add(candidate);
        return [.. found.OrderBy(f => f.Place.Bit)];
    }

    // Frames between most flips of a bit; null when they come irregularly or with every frame.
    private static int? Rate(Payloads payloads, int bit)
    {
        var distances = new Dictionary<int, int>();
        int sinceFlip = -1;
        for (int i = 1; i < payloads.Count; i++)
        {
            int step = payloads.Steps[i];
            sinceFlip = step is Payloads.Apart || sinceFlip < 0 ? -1 : sinceFlip + step;
            if (step is not 1 || !Differs(payloads, i, bit))
                continue;
            if (sinceFlip > 0)
                distances[sinceFlip] = distances.GetValueOrDefault(sinceFlip) + 1;
            sinceFlip = 0;
        }
        int all = distances.Values.Sum();
        if (all < LeastSteps - 1)
            return null;
        var (distance, times) = distances.MaxBy(d => d.Value);
        return distance is > 1 and <= Slowest && times >= Regular * all ? distance : null;
    }

    private static bool Differs(Payloads payloads, int number, int bit) =>
        ((payloads.Word(number, bit / 64) ^ payloads.Word(number - 1, bit / 64)) >> (bit % 64) & 1) is 1;

    private static CounterFinding? Widen(Payloads payloads, BitActivity activity, int bit, bool big, int every, Func<int, bool> taken)
    {
        var moves = Moves(payloads, bit, every);
        CounterFinding? best = null;
        int position = bit;
        for (int bits = 1; bits <= Widest && position >= 0 && position < activity.Bits && !taken(position); bits++, position = FieldPlace.Next(position, big))
        {
            var place = new FieldPlace(bit, bits, big);
            if (activity.Changes(position) && Judge(payloads, place, moves, every) is { } finding && (best is null || finding.Evidence.Hits >= best.Evidence.Hits))
                best = finding;
        }
        return best is { Place.BigEndian: true } && best.Place.Bits <= 8 - (best.Place.Bit % 8) ? null : best;
    }

    // The frames in which the counter should move: every n-th one from a flip of its lowest bit on; a flip elsewhere begins anew.
    private static (List<int> Numbers, byte[] Steps) Moves(Payloads payloads, int bit, int every)
    {
        var numbers = new List<int>();
        var steps = new List<byte>();
        int place = -1;
        for (int i = 1; i < payloads.Count; i++)
        {
            int step = payloads.Steps[i];
            place = step is Payloads.Apart || place < 0 ? -1 : place + step;
            bool flip = step is 1 && Differs(payloads, i, bit);
            if (!flip && place != every)
            {
                place = place > every ? -1 : place;
                continue;
            }
            steps.Add(place == every ? (byte)1 : Payloads.Apart);
            numbers.Add(i);
            place = 0;
        }
        return (numbers, [.. steps]);
    }

    private static CounterFinding? Judge(Payloads payloads, FieldPlace place, (List<int> Numbers, byte[] Steps) moves, int every)
    {
        var slow = payloads.Some(moves.Numbers, moves.Steps);
        if (CounterFit.Of(slow.Values(place, 0, slow.Count), slow.Steps, place.Bits) is not { } fit || fit.Tested < LeastSteps)
            return null;
        // A change between the moves contradicts.
        int changes = 0;
        for (int i = 1; i < payloads.Count; i++)
            if (payloads.Steps[i] is 1 && place.Read(payloads.Data(i)) != place.Read(payloads.Data(i - 1)))
                changes++;
        int astray = Math.Max(0, changes - slow.Count);
        fit = fit with { Tested = fit.Tested + astray };
        if (fit.Hits < LeastHits * fit.Tested)
            return null;
        var evidence = CounterEvidence.Of(fit, place.Bits, payloads.Length * 8, Log10Rates);
        // A bit that goes to and fro may be a function of anything.
        return evidence.Log10Chance < Evidence.LikelyLog10 && place.Bits > 1
            ? new CounterFinding { Place = place, Rule = fit.Rule, Every = every, Evidence = evidence, Rounds = fit.Rounds }
            : null;
    }
}
