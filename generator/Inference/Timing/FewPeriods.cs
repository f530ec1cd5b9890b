namespace Locum.Inference.Timing;

/// <summary>The period of a handful of distances, of which one pause would outweigh all others by its time.</summary>
internal static class FewPeriods
{
    private const double Alike = 0.1;

    /// <summary>
    /// The distance that most of them have, unless these are a fast beginning before at least two slow ones, which then decide;
    /// microseconds, 0 when there are none.
    /// </summary>
    /// <param name="distances">In the order of the frames.</param>
    public static double Find(IReadOnlyList<long> distances)
    {
        if (distances.Count is 0)
            return 0;
        var groups = distances.Select((d, i) => (Distance: d, Number: i)).Select(a => distances.Select((d, i) => (Distance: d, Number: i))
            .Where(b => Math.Abs(a.Distance - b.Distance) <= Alike * a.Distance).ToList()).ToList();
        var most = groups.OrderByDescending(g => g.Count).ThenByDescending(g => g[0].Distance).First();
        var rest = distances.Skip(most.Count).ToList();
        bool leads = most[^1].Number == most.Count - 1;
        double slow = PeriodCluster.Find(rest, out _);
        bool slowFollows = leads && rest.Count > 1 && rest.TrueForAll(r => Math.Abs(r - slow) <= Alike * slow && r > most[0].Distance);
        return slowFollows ? slow : PeriodCluster.Median([.. most.Select(m => m.Distance)]);
    }
}
