using Locum.Inference.Payload;

namespace Locum.Inference.Counting;

/// <summary>
/// Marks counters of one frame that move together: one of them may be a function of the other, such as a sum over a payload
/// in which nothing else changes.
/// </summary>
internal static class CounterPairs
{
    private const int Looked = 1_000;
    private const double Always = 0.98;
    private const int LeastBits = 3;

    /// <summary>
    /// The counters; of two that move together the less usual one is marked. A narrow one with fewer values is left out: any bits
    /// that depend on the low bits of a counter, such as those of a checksum, count by themselves.
    /// </summary>
    public static IReadOnlyList<CounterFinding> Mark(Payloads payloads, IReadOnlyList<CounterFinding> counters)
    {
        var order = counters.OrderByDescending(c => c.Rule.Count).ThenByDescending(c => c.Rule.IsUsual(c.Place.Bits)).ThenBy(c => c.Rule.From).ThenBy(c => c.Place.Bits).ThenBy(c => c.Place.Bit).ToList();
        var marked = new List<CounterFinding>();
        foreach (var counter in order)
        {
            if (marked.Find(m => m.MovesWith is null && MoveTogether(payloads, m, counter)) is not { } other)
                marked.Add(counter);
            else if (other.Rule.Count == counter.Rule.Count || (counter.Rule.IsUsual(counter.Place.Bits) && counter.Place.Bits >= LeastBits))
                marked.Add(counter with { MovesWith = other.Place });
        }
        return [.. marked.OrderBy(c => c.Place.Bit)];
    }

    /// <summary>Slow counters that are no function of a fast one: bits of a checksum over a counter count slowly, too.</summary>
    public static IReadOnlyList<CounterFinding> WithoutCopies(Payloads payloads, IReadOnlyList<CounterFinding> slow, IReadOnlyList<CounterFinding> fast) =>
        [.. slow.Where(s => !fast.Any(f => IsCopy(payloads, s, f)))];

    private static bool IsCopy(Payloads payloads, CounterFinding slow, CounterFinding fast)
    {
        ulong round = slow.Rule.Count * (ulong)slow.Every;
        if (fast.Rule.Count % round != 0)
            return false;
        var distances = new Dictionary<ulong, int>();
        int count = Math.Min(payloads.Count, Looked);
        for (int i = 0; i < count; i++)
        {
            var (left, right) = (fast.Place.Read(payloads.Data(i)), slow.Place.Read(payloads.Data(i)));
            if (!fast.Rule.Has(left) || !slow.Rule.Has(right))
                continue;
            // Both move on at the same values of the fast one, wherever those lie.
            ulong distance = (fast.Rule.Place(left) + round - (slow.Rule.Place(right) * (ulong)slow.Every)) % round;
            distances[distance] = distances.GetValueOrDefault(distance) + 1;
        }
        return distances.Count > 0 && distances.OrderByDescending(d => d.Value).Take(slow.Every).Sum(d => d.Value) >= Always * count;
    }

    private static bool MoveTogether(Payloads payloads, CounterFinding a, CounterFinding b)
    {
        if (a.Rule.Count % b.Rule.Count != 0 || a.Every != b.Every)
            return false;
        var distances = new Dictionary<ulong, int>();
        int count = Math.Min(payloads.Count, Looked);
        for (int i = 0; i < count; i++)
        {
            var (left, right) = (a.Place.Read(payloads.Data(i)), b.Place.Read(payloads.Data(i)));
            if (!a.Rule.Has(left) || !b.Rule.Has(right))
                continue;
            ulong distance = (a.Rule.Place(left) + b.Rule.Count - b.Rule.Place(right)) % b.Rule.Count;
            distances[distance] = distances.GetValueOrDefault(distance) + 1;
        }
        return distances.Count > 0 && distances.Values.Max() >= Always * count;
    }
}
