namespace Locum.Inference.Counting;

/// <summary>The counter rule that most steps of a row of values obey.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Tested">Steps between neighbouring frames.</param>
/// <param name="Hits">Steps as the rule says.</param>
/// <param name="Rounds">How often the row went from the last value to the first.</param>
internal readonly record struct CounterFit(CounterRule Rule, int Tested, int Hits, int Rounds)
{
    private const double LeastShare = 0.6;

    /// <summary>Fits a rule; null when no distance between values prevails.</summary>
    /// <param name="values">The values, each below 2^<paramref name="bits"/>.</param>
    /// <param name="steps">Of each value how far it lies behind the one before; only steps of 1 count.</param>
    /// <param name="bits">Width.</param>
    public static CounterFit? Of(ReadOnlySpan<ulong> values, ReadOnlySpan<byte> steps, int bits)
    {
        ulong mask = bits >= 64 ? ulong.MaxValue : (1UL << bits) - 1;
        if (Prevailing(values, steps, mask) is not { } distance)
            return null;
        bool down = distance > (mask >> 1) + (mask & 1);
        ulong step = down ? (mask - distance) + 1 : distance;
        var (from, to, rounds) = Ends(values, steps, step, down, mask);
        var rule = new CounterRule(from, to, step);
        int tested = 0;
        int hits = 0;
        for (int i = 1; i < values.Length; i++)
        {
            if (steps[i] != 1)
                continue;
            tested++;
            if (rule.Has(values[i - 1]) && rule.Next(values[i - 1]) == values[i])
                hits++;
        }
        return rule.Count < 2 || hits < LeastShare * tested ? null : new CounterFit(rule, tested, hits, rounds);
    }

    // The distance of more than half of the steps, if there is one: by vote, then counted.
    private static ulong? Prevailing(ReadOnlySpan<ulong> values, ReadOnlySpan<byte> steps, ulong mask)
    {
        ulong candidate = 0;
        int lead = 0;
        int tested = 0;
        for (int i = 1; i < values.Length; i++)
        {
            if (steps[i] != 1)
                continue;
            tested++;
            ulong distance = (values[i] - values[i - 1]) & mask;
            if (lead is 0)
                (candidate, lead) = (distance, 1);
            else
                lead += distance == candidate ? 1 : -1;
        }
        if (candidate is 0)
            return null;
        int count = 0;
        for (int i = 1; i < values.Length; i++)
            if (steps[i] is 1 && ((values[i] - values[i - 1]) & mask) == candidate)
                count++;
        return count >= LeastShare * tested ? candidate : null;
    }

    // First and last value of a round: what most jumps against the direction lead to and come from.
    private static (ulong From, ulong To, int Rounds) Ends(ReadOnlySpan<ulong> values, ReadOnlySpan<byte> steps, ulong step, bool down, ulong mask)
    {
        var jumps = new Dictionary<(ulong To, ulong From), int>();
        ulong low = ulong.MaxValue;
        ulong high = 0;
        for (int i = 0; i < values.Length; i++)
        {
            low = Math.Min(low, values[i]);
            high = Math.Max(high, values[i]);
            if (i > 0 && steps[i] is 1 && (down ? values[i] > values[i - 1] : values[i] < values[i - 1]))
                jumps[(values[i - 1], values[i])] = jumps.GetValueOrDefault((values[i - 1], values[i])) + 1;
        }
        if (jumps.Count > 0)
        {
            var ((to, from), rounds) = jumps.MaxBy(j => j.Value);
            // A single jump may be anything; it is the end of a round when it leads from the highest value of the bits, or to the lowest.
            bool plain = down ? to <= 1 || from >= mask - 1 : from <= 1 || to >= mask - 1;
            if ((down ? from - to : to - from) % step is 0 && (rounds > 1 || plain))
                return (from, to, rounds);
        }
        // No round was seen: as far as the bits go.
        ulong rest = low % step;
        ulong last = rest + ((mask - rest) / step * step);
        return down ? (last, rest, 0) : (rest, last, 0);
    }
}
