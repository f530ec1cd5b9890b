namespace Locum.Wire;

/// <summary>Finds bit timings.</summary>
public static class BitTimingSolver
{
    /// <summary>More quanta place the sample point and the jump width more finely; beyond this it gains little.</summary>
    public const int CustomaryQuanta = 20;

    /// <summary>
    /// The best timing for a rate and a sample point, or null when the controller has none. In this order:
    /// the smallest rate error; the closest sample point; the number of quanta closest to
    /// <paramref name="preferredQuanta"/>, the larger one of two; the earlier sample point; the smaller
    /// prescaler. The jump width is the largest one allowed. All comparisons are exact.
    /// </summary>
    /// <param name="limits">The controller.</param>
    /// <param name="rate">Wanted bit/s, above 0.</param>
    /// <param name="samplePointPermille">Wanted sample point in thousandths of the bit, for example 875.</param>
    /// <param name="maxErrorPpm">Largest accepted rate error in either direction.</param>
    /// <param name="preferredQuanta">More quanta place the sample point and the jump width more finely, up to here.</param>
    public static BitTiming? Solve(
        BitTimingLimits limits, long rate, int samplePointPermille, int maxErrorPpm = 1000, int preferredQuanta = CustomaryQuanta)
    {
        Candidate? best = null;
        foreach (var candidate in Candidates(limits, rate, samplePointPermille, maxErrorPpm, preferredQuanta))
            if (best is null || candidate.IsBetterThan(best.Value))
                best = candidate;
        return best?.Timing;
    }

    /// <summary>The best timing of each prescaler, best first: what <see cref="Solve"/> chose from.</summary>
    public static IReadOnlyList<BitTiming> Alternatives(
        BitTimingLimits limits, long rate, int samplePointPermille, int maxErrorPpm = 1000, int preferredQuanta = CustomaryQuanta)
    {
        var best = new SortedDictionary<int, Candidate>();
        foreach (var candidate in Candidates(limits, rate, samplePointPermille, maxErrorPpm, preferredQuanta))
            if (!best.TryGetValue(candidate.Timing.Brp, out var known) || candidate.IsBetterThan(known))
                best[candidate.Timing.Brp] = candidate;
        var ranked = best.Values.ToList();
        ranked.Sort((a, b) => a.IsBetterThan(b) ? -1 : b.IsBetterThan(a) ? 1 : a.Timing.Brp.CompareTo(b.Timing.Brp));
        return [.. ranked.Select(c => c.Timing)];
    }

    private static IEnumerable<Candidate> Candidates(BitTimingLimits limits, long rate, int samplePointPermille, int maxErrorPpm, int preferredQuanta)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(rate);

        for (int brp = limits.BrpMin; brp <= limits.BrpMax; brp += limits.BrpStep)
        {
            // Only the two neighbours of the ideal number can be the best one of this prescaler.
            long below = limits.ClockHz / (rate * brp);
            for (long ideal = below; ideal <= below + 1; ideal++)
            {
                int quanta = (int)Math.Clamp(ideal, limits.QuantaMin, limits.QuantaMax);
                if (!IsNear(limits.ClockHz, rate * brp * quanta, maxErrorPpm))
                    continue;
                for (int tseg2 = limits.Tseg2Min; tseg2 <= limits.Tseg2Max; tseg2++)
                {
                    int tseg1 = quanta - 1 - tseg2;
                    if (!limits.AllowsSegments(tseg1, tseg2))
                        continue;
                    var timing = new BitTiming(limits.ClockHz, brp, tseg1, tseg2, limits.LargestSjw(tseg1, tseg2));
                    yield return new Candidate(timing, rate, samplePointPermille, preferredQuanta);
                }
            }
        }
    }

    private static bool IsNear(long clock, long product, int maxErrorPpm) =>
        (Int128)Math.Abs(clock - product) * 1_000_000 <= (Int128)product * maxErrorPpm;

    private readonly record struct Candidate(BitTiming Timing, long Rate, int SamplePoint, int PreferredQuanta)
    {
        // Both are numerators; the denominators are Rate * Divider and 1000 * Quanta.
        private long RateError => Math.Abs(Timing.ClockHz - (Rate * Divider));

        private long SamplePointError => Math.Abs((1000L * (1 + Timing.Tseg1)) - ((long)SamplePoint * Timing.Quanta));

        private long Divider => (long)Timing.Brp * Timing.Quanta;

        public bool IsBetterThan(Candidate other)
        {
            int order = CompareFractions(RateError, Divider, other.RateError, other.Divider);
            if (order == 0)
                order = CompareFractions(SamplePointError, Timing.Quanta, other.SamplePointError, other.Timing.Quanta);
            if (order == 0)
                order = Math.Abs(Timing.Quanta - PreferredQuanta).CompareTo(Math.Abs(other.Timing.Quanta - PreferredQuanta));
            if (order == 0)
                order = other.Timing.Quanta.CompareTo(Timing.Quanta);
            if (order == 0)
                order = Timing.Tseg1.CompareTo(other.Timing.Tseg1);
            // Prescalers are tried in rising order, so the first of equals has the smaller one.
            return order < 0;
        }

        private static int CompareFractions(long a, long aDenominator, long b, long bDenominator) =>
            ((Int128)a * bDenominator).CompareTo((Int128)b * aDenominator);
    }
}
