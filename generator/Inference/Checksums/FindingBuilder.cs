using System.Globalization;

namespace Locum.Inference.Checksums;

/// <summary>Turns rules that agree with each other into one finding: the simplest of them, with evidence and cautions.</summary>
internal sealed class FindingBuilder(WordingContext context, Tally tally, bool isTransport)
{
    // A 4-bit counter alone gives as many payloads.
    private const int FewPayloads = 16;
    private const int MostEquivalents = 6;

    // Steps of a counter that frames lost or a restart may make uneven.
    private const int FewUneven = 3;
    private const double UnevenShare = 0.25;

    /// <summary>The finding.</summary>
    /// <param name="alike">Rules at one place that agree on every bit seen to change; at least one.</param>
    public Ranked Build(IReadOnlyList<Candidate> alike)
    {
        var best = alike.OrderBy(c => c.Verified.Contradictions).ThenBy(c => c.Effort).First();
        var wording = best.Wordings[0];
        var evidence = Weigh(best, wording);
        var cautions = Cautions(best, wording, evidence);
        var finding = new ChecksumFinding
        {
            Id = context.Id,
            Length = context.Set.Length,
            Statement = wording.Statement,
            Protect = wording.Protect,
            Counter = wording.Protect?.Counter ?? best.Verified.Fit.Classes?.Counter,
            Evidence = evidence,
            Confidence = cautions.Aggregate(evidence.Confidence, (c, caution) => Lower(c, Most(caution.Kind))),
            Cautions = cautions,
            Equivalents = [.. best.Wordings.Skip(1).Where(w => wording.Effort > 1 || w.Effort < 4).Select(w => w.Text).Take(MostEquivalents)],
            SeenBytes = best.View.SeenBytes,
            UnseenBytes = Unseen(best),
        };
        return new Ranked(finding, best.Verified.Fit, best.View, PlaceScore.Of(wording.Statement.Place, best.View, context.Set))
        {
            IsCounting = context.Counters.Any(c => c.Place.Overlaps(wording.Statement.Place)) || best.View.Steps() is var (uneven, all) && uneven < UnevenShare * all,
            IsCustomary = best.IsNamed && best.Verified.Fit.Range.Plainness is 0,
        };
    }

    /// <summary>The word on the scale that a caution allows at most.</summary>
    public static Confidence Most(CautionKind kind) => kind switch
    {
        CautionKind.FewPayloads or CautionKind.FollowsOneByte or CautionKind.Counts or CautionKind.Transport => Confidence.Possible,
        CautionKind.OtherRulesFit or CautionKind.PartlyCovered or CautionKind.ShortPeriod or CautionKind.Contradicted => Confidence.Likely,
        _ => Confidence.Certain,
    };

    /// <summary>The lower of two.</summary>
    public static Confidence Lower(Confidence a, Confidence b) => a < b ? a : b;

    private Evidence Weigh(Candidate best, Wording wording)
    {
        var set = context.Set;
        int hits = 0;
        int distinct = 0;
        for (int i = 0; i < set.Distinct; i++)
        {
            // What the wording loses against the rule, such as an odd remainder of a sum with carry, counts against it.
            if (best.Verified.Hit[i] && wording.Statement.Holds(context.Id, set[i]))
            {
                hits += set.Counts[i];
                distinct++;
            }
        }

        return new Evidence(best.Verified.TestedFrames, hits, distinct, FalseHit.Log10(best.Verified, best.View, tally, best.IsNamed, wording.Protect is not null));
    }

    private List<Caution> Cautions(Candidate best, Wording wording, Evidence evidence)
    {
        var cautions = new List<Caution>();
        var fit = best.Verified.Fit;
        int distinct = best.View.DistinctCovered();
        if (distinct <= FewPayloads)
            cautions.Add(new Caution(CautionKind.FewPayloads, Text($"only {distinct} different contents of the bytes covered were seen")));
        if (Follower.Find(best.Verified, best.View, context.Set) is { } index)
            cautions.Add(new Caution(CautionKind.FollowsOneByte, Text($"the value merely follows byte {index}, as two counters that move together do")));
        if (best.View.Steps().Uneven < FewUneven)
            cautions.Add(new Caution(CautionKind.Counts, "the value itself steps evenly, as a counter does"));
        if (best.Verified.Fit is CrcFit crc && ShortPeriod.Of(crc, context.Set.Length) is { } period)
            cautions.Add(new Caution(CautionKind.ShortPeriod, Text($"the polynomial repeats itself after {period} bytes, so that copies among the bytes imitate it")));
        if (isTransport)
            cautions.Add(new Caution(CautionKind.Transport, "the frames look like segments of a transport protocol"));
        if (evidence.Contradictions > 0)
            cautions.Add(new Caution(CautionKind.Contradicted, Text($"{evidence.Contradictions} of {evidence.Tested} frames contradict")));
        var uncovered = Enumerable.Range(0, context.Set.Length).Where(b => (best.View.ChangedOther(b) & ~best.View.Covered(b)) != 0).ToList();
        if (fit.IsPlain && uncovered.Count > 0)
            cautions.Add(new Caution(CautionKind.PartlyCovered, $"bits that change make no difference to it, in bytes {string.Join(", ", uncovered)}"));
        cautions.AddRange(wording.Cautions);
        if (Unseen(best) is { Count: > 0 } unseen)
            cautions.Add(new Caution(CautionKind.UnseenBytes, $"bytes that never change may be covered or not: {string.Join(", ", unseen)}"));
        return cautions;
    }

    private List<int> Unseen(Candidate best) => [.. Enumerable.Range(0, context.Set.Length).Where(b => best.View.ChangedOther(b) is 0 && best.Verified.Fit.Place.Mask(b) != byte.MaxValue)];

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
