namespace Locum.Inference.Checksums;

/// <summary>
/// How much a place looks like that of a checksum, to choose among places between which the payloads cannot decide: a
/// checksum uses all its bits, changes with nearly every change of the payload, and by custom stands at the end or at the
/// beginning. A place that counts is the last to be chosen; but a checksum over a counter may look as if it counted.
/// </summary>
internal static class PlaceScore
{
    private const double AtEnd = 0.4;
    private const double AtStart = 0.35;

    /// <summary>The score; differences below 0.3 mean nothing.</summary>
    public static double Of(ChecksumPlace place, HitView view, PayloadSet set)
    {
        double score = (double)view.ChangedOwnBits / place.Bits;
        int steps = 0;
        int changes = 0;
        var frames = set.Beginning;
        for (int f = 1; f < frames.Length; f++)
        {
            if (frames[f] == frames[f - 1])
                continue;
            steps++;
            changes += place.Read(set[frames[f]]) != place.Read(set[frames[f - 1]]) ? 1 : 0;
        }

        double expected = steps * (1 - Math.Pow(2, -place.Bits));
        score += steps is 0 ? 0 : Math.Min(1, changes / expected);
        if (place.LastByte == set.Length - 1)
            score += AtEnd;
        else if (place.FirstByte is 0)
            score += AtStart;
        return score;
    }
}
