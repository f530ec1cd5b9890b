using Locum.Inference;
using Locum.Reporting;

namespace Locum.Comparing;

/// <summary>What changes in an identifier that is sent with and without the module.</summary>
/// <param name="tried">Identifiers that are compared, which makes a chance hit more probable.</param>
internal sealed class ChangeFinder(long stepUs, int tried)
{
    private const double PeriodShare = 0.1;
    private const double BlockUs = 1e6;
    private const double PeriodsPerBlock = 10;

    private readonly double _log10Tried = Math.Log10(Math.Max(1, tried));

    public IEnumerable<(DifferenceKind Kind, string What, Evidence Evidence)> Find(SideStats with, SideStats without)
    {
        if (Period(with, without) is { } period)
            yield return (DifferenceKind.Period, period.What, period.Evidence);
        if (Length(with, without) is { } length)
            yield return (DifferenceKind.Length, length.What, length.Evidence);
        var longest = with.Captures.Concat(without.Captures).Where(c => c.Count > 0).Max(c => c.Series!.LongestLength);
        var (froze, woke, other) = (new Bits(), new Bits(), new Bits());
        for (var position = 0; position < 8 * longest; position++)
        {
            var (a, b) = (BitStats.Of(with, position), BitStats.Of(without, position));
            if (a.Captures is 0 || b.Captures is 0)
                continue;
            if (a.Living > 0 && b.Changes is 0 && b.Steps > 0)
                froze.Take(position, a, ZeroCount.Log10Chance(a.Signs, a.Steps, b.Steps));
            else if (b.Living > 0 && a.Changes is 0 && a.Steps > 0)
                woke.Take(position, b, ZeroCount.Log10Chance(b.Signs, b.Steps, a.Steps));
            else if (a.Always is { } one && b.Always is { } two && one != two)
                other.Take(position, a with { Living = a.Captures }, Shuffle.Log10Chance(a.Captures, b.Captures));
        }
        foreach (var (kind, bits, words) in new[] { (DifferenceKind.Froze, froze, "still without"), (DifferenceKind.Woke, woke, "alive only without"), (DifferenceKind.Value, other, "of another value") })
            if (bits.Likely(_log10Tried) is { Count: > 0 } positions)
                yield return (kind, $"{BitRow.Of(positions)} {words}", bits.Evidence(_log10Tried));
    }

    private (string What, Evidence Evidence)? Period(SideStats with, SideStats without)
    {
        if (with.PeriodUs is not { } before || without.PeriodUs is not { } now || Math.Abs(before - now) <= (PeriodShare * Math.Max(before, now)) + (2 * stepUs))
            return null;
        var limit = Math.Abs(before - now) / 2;
        var tested = with.Captures.Concat(without.Captures).Count(c => c.PeriodUs is not null);
        var hits = with.Captures.Count(c => c.PeriodUs is { } p && Math.Abs(p - before) < limit) + without.Captures.Count(c => c.PeriodUs is { } p && Math.Abs(p - now) < limit);
        // Distances of one second say the same; seconds are what could have come in another order.
        var chance = Shuffle.Log10Chance(Blocks(with, before), Blocks(without, now)) + _log10Tried;
        return ($"every {Words.Time(before)} with, every {Words.Time(now)} without", new Evidence(tested, hits, hits, Math.Min(0, chance)));
    }

    private static double Blocks(SideStats side, double period) => Math.Floor(side.AwakeUs / Math.Max(BlockUs, PeriodsPerBlock * period));

    private (string What, Evidence Evidence)? Length(SideStats with, SideStats without)
    {
        var (before, now) = (Lengths(with), Lengths(without));
        if (before.SetEquals(now))
            return null;
        var captures = with.Present + without.Present;
        var chance = before.Overlaps(now) ? 0 : Shuffle.Log10Chance(Blocks(with, 0), Blocks(without, 0)) + _log10Tried;
        return ($"{string.Join(", ", before)} bytes with, {string.Join(", ", now)} without", new Evidence(captures, captures, captures, Math.Min(0, chance)));
    }

    private static SortedSet<int> Lengths(SideStats side) =>
        [.. side.Captures.Where(c => c.Count > 0).SelectMany(c => c.Series!.Lengths.ToArray()).Select(l => (int)l)];

    /// <summary>Bits that changed in one way.</summary>
    private sealed class Bits
    {
        private readonly List<(int Position, BitStats Stats, double Chance)> _bits = [];

        public void Take(int position, BitStats stats, double chance) => _bits.Add((position, stats, chance));

        /// <summary>Those that are no mere chance, or all that there are of those that cannot be sure.</summary>
        public List<int> Likely(double log10Tried) => [.. _bits.Where(b => b.Chance + log10Tried < NoChance || b.Stats.Changes is 0).Select(b => b.Position)];

        public Evidence Evidence(double log10Tried)
        {
            var best = _bits.MinBy(b => b.Chance);
            return new Evidence(best.Stats.Captures, best.Stats.Living, best.Stats.Living, Math.Min(0, best.Chance + log10Tried));
        }

        private const double NoChance = -1.3;
    }
}
