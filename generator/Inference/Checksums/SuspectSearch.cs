namespace Locum.Inference.Checksums;

/// <summary>
/// Finds bytes that behave as a checksum although no rule explains them: one value for each content of the rest, another
/// value with nearly every change, many values, and no counter.
/// </summary>
internal static class SuspectSearch
{
    private const int LeastDistinct = 24;
    private const int LeastRepeats = 8;
    private const double LeastChanging = 0.95;

    /// <summary>Such bytes in order.</summary>
    public static IReadOnlyList<ChecksumPlace> Find(PayloadSet set, IReadOnlyList<CounterField> counters)
    {
        if (set.Distinct < LeastDistinct || set.Frames.Length < set.Distinct + LeastRepeats)
            return [];
        return [.. Places.OfBytes(set.Length, 1).Where(p => !p.BigEndian && !counters.Any(c => c.Place.Overlaps(p)) && Behaves(set, p.FirstByte))];
    }

    private static bool Behaves(PayloadSet set, int index)
    {
        var frames = set.Beginning;
        int steps = 0;
        int changes = 0;
        for (int f = 1; f < frames.Length; f++)
        {
            if (frames[f] == frames[f - 1])
                continue;
            steps++;
            changes += set[frames[f]][index] != set[frames[f - 1]][index] ? 1 : 0;
        }

        return changes >= LeastChanging * steps && Values(set, index) >= LeastDistinct && IsFunction(set, index);
    }

    private static int Values(PayloadSet set, int index)
    {
        var seen = new HashSet<byte>();
        for (int i = 0; i < set.Distinct; i++)
            seen.Add(set[i][index]);
        return seen.Count;
    }

    // Payloads are different, so equal rests would have to differ in the byte alone.
    private static bool IsFunction(PayloadSet set, int index)
    {
        var seen = new HashSet<string>();
        for (int i = 0; i < set.Distinct; i++)
        {
            var payload = set[i];
            if (!seen.Add(Convert.ToHexString(payload[..index]) + "." + Convert.ToHexString(payload[(index + 1)..])))
                return false;
        }

        return true;
    }
}
