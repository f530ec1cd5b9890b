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

    /// <summary>The counters; of two that move together the less usual one is marked.</summary>
    public static IReadOnlyList<CounterFinding> Mark(Payloads payloads, IReadOnlyList<CounterFinding> counters)
    {
        var order = counters.OrderByDescending(c => c.Rule.IsUsual(c.Place.Bits)).ThenBy(c => c.Rule.From).ThenBy(c => c.Place.Bits).ThenBy(c => c.Place.Bit).ToList();
        var marked = new List<CounterFinding>();
        foreach (var counter in order)
            marked.Add(marked.Find(m => m.MovesWith is null && MoveTogether(payloads, m, counter)) is { } other ? counter with { MovesWith = other.Place } : counter);
        return [.. marked.OrderBy(c => c.Place.Bit)];
    }

    private static bool MoveTogether(Payloads payloads, CounterFinding a, CounterFinding b)
    {
        if (a.Rule.Count != b.Rule.Count || a.Every != b.Every)
            return false;
        var distances = new Dictionary<ulong, int>();
        int count = Math.Min(payloads.Count, Looked);
        for (int i = 0; i < count; i++)
        {
            var (left, right) = (a.Place.Read(payloads.Data(i)), b.Place.Read(payloads.Data(i)));
            if (!a.Rule.Has(left) || !b.Rule.Has(right))
                continue;
            ulong distance = (a.Rule.Place(left) + a.Rule.Count - b.Rule.Place(right)) % a.Rule.Count;
            distances[distance] = distances.GetValueOrDefault(distance) + 1;
        }
        return distances.Count > 0 && distances.Values.Max() >= Always * count;
    }
}
