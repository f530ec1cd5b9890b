namespace Locum.Inference.Checksums;

/// <summary>A hypothesis that was held against every payload, with its constants.</summary>
internal sealed class Verified
{
    private const int QuickLook = 64;
    private const double QuickShare = 0.75;

    // Contradicting payloads that may be corrupted frames: a few, and few in proportion.
    private const int FewContradictions = 2;
    private const double ContradictionShare = 0.01;
    private const double MostShare = 0.15;

    private Verified(Fit fit, ulong?[] constants, bool[] hit, int testedFrames, int hitFrames, int contradictions, int hitDistinct)
    {
        Fit = fit;
        Constants = constants;
        Hit = hit;
        TestedFrames = testedFrames;
        HitFrames = hitFrames;
        Contradictions = contradictions;
        HitDistinct = hitDistinct;
    }

    /// <summary>Data bytes of the payloads.</summary>
    public int Length { get; private init; }

    /// <summary>The hypothesis.</summary>
    public Fit Fit { get; }

    /// <summary>The constant of each class; null for classes without a frame.</summary>
    public ulong?[] Constants { get; }

    /// <summary>For each payload, whether it is right and its class has another payload to compare with.</summary>
    public bool[] Hit { get; }

    /// <summary>Frames on which the rule could have failed.</summary>
    public int TestedFrames { get; }

    /// <summary>Frames among them that are right.</summary>
    public int HitFrames { get; }

    /// <summary>Different payloads that are wrong.</summary>
    public int Contradictions { get; }

    /// <summary>Different payloads that are right.</summary>
    public int HitDistinct { get; }

    /// <summary>Solves the constants by majority and counts; null when too many payloads contradict.</summary>
    public static Verified? Try(Fit fit, PayloadSet set)
    {
        if (fit.Classes is null && set.Distinct > 2 * QuickLook && !LooksRight(fit, set))
            return null;
        int classes = fit.Classes?.Count ?? 1;
        var residues = new ulong[set.Distinct];
        var votes = new Dictionary<ulong, int>[classes];
        for (int k = 0; k < classes; k++)
            votes[k] = [];
        for (int i = 0; i < set.Distinct; i++)
        {
            residues[i] = fit.Residue(set[i]);
            var vote = votes[Class(fit, set, i)];
            vote[residues[i]] = vote.GetValueOrDefault(residues[i]) + 1;
        }

        var constants = new ulong?[classes];
        var tested = new bool[classes];
        for (int k = 0; k < classes; k++)
        {
            if (votes[k].Count is 0)
                continue;
            constants[k] = votes[k].OrderByDescending(v => v.Value).ThenBy(v => v.Key).First().Key;
            tested[k] = votes[k].Values.Sum() > 1;
        }

        return Count(fit, set, residues, constants, tested);
    }

    private static Verified? Count(Fit fit, PayloadSet set, ulong[] residues, ulong?[] constants, bool[] tested)
    {
        var hit = new bool[set.Distinct];
        int testedFrames = 0;
        int hitFrames = 0;
        int contradictions = 0;
        int hitDistinct = 0;
        for (int i = 0; i < set.Distinct; i++)
        {
            int k = Class(fit, set, i);
            if (!tested[k])
                continue;
            testedFrames += set.Counts[i];
            hit[i] = residues[i] == constants[k];
            if (hit[i])
            {
                hitFrames += set.Counts[i];
                hitDistinct++;
            }
            else
            {
                contradictions++;
            }
        }

        double allowed = Math.Min(Math.Max(FewContradictions, ContradictionShare * set.Distinct), MostShare * set.Distinct);
        return hitDistinct < 2 || contradictions > allowed
            ? null : new Verified(fit, constants, hit, testedFrames, hitFrames, contradictions, hitDistinct) { Length = set.Length };
    }

    private static int Class(Fit fit, PayloadSet set, int index) => fit.Classes?.Of(set[index]) ?? 0;

    private static bool LooksRight(Fit fit, PayloadSet set)
    {
        var votes = new Dictionary<ulong, int>();
        for (int i = 0; i < QuickLook; i++)
        {
            ulong residue = fit.Residue(set[(int)((long)i * set.Distinct / QuickLook)]);
            votes[residue] = votes.GetValueOrDefault(residue) + 1;
        }

        return votes.Values.Max() >= QuickShare * QuickLook;
    }
}
