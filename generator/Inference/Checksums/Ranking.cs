namespace Locum.Inference.Checksums;

/// <summary>Compares findings with each other: rules that fit equally well, relations told twice, and what to believe.</summary>
internal static class Ranking
{
    // A rule that fits with a chance above this does not cast doubt on one that is sure.
    private const double DoubtfulLog10 = -2;

    // Scores of places closer than this do not decide between them.
    private const double SameScore = 0.3;

    // A finding whose chance is above this (1 in 10) is noise; customary rules over all bytes are told up to 1 in 2.
    private const double NoiseLog10 = -1;
    private const double CustomaryNoiseLog10 = -0.3;

    /// <summary>Findings of one length, compared with each other; noise is left out.</summary>
    public static IReadOnlyList<ChecksumFinding> Compare(IReadOnlyList<Ranked> findings)
    {
        var kept = Shadowed(Related(findings).FindAll(f => f.Finding.Evidence.Log10Chance < (f.IsCustomary ? CustomaryNoiseLog10 : NoiseLog10)));
        return [.. kept.Select(f => Doubt(f, kept))];
    }

    /// <summary>Best first: confidence, then what needs no solved polynomial, then chance, then place.</summary>
    public static IReadOnlyList<ChecksumFinding> Sort(IEnumerable<ChecksumFinding> findings) =>
    [
        .. findings.OrderByDescending(f => f.Confidence)
            .ThenBy(f => f.Cautions.Any(c => c.Kind is CautionKind.FollowsOneByte))
            .ThenBy(f => f is { Protect: null, Statement.Rule: FoundCrc { Named: false } })
            .ThenBy(f => f.Evidence.Log10Chance).ThenBy(f => f.Length)
            .ThenByDescending(f => f.Statement.Place.Bits).ThenBy(f => f.Statement.Place.Bit).ThenBy(f => f.Statement.Place.BigEndian),
    ];

    /// <summary>The best findings of which no two places overlap; those that are only possible stand back behind better ones.</summary>
    public static IReadOnlyList<ChecksumFinding> Choose(IReadOnlyList<ChecksumFinding> sorted)
    {
        var chosen = new List<ChecksumFinding>();
        foreach (var finding in sorted)
        {
            var sameLength = chosen.Where(c => c.Length == finding.Length).ToList();
            if (sameLength.Exists(c => c.Statement.Place.Overlaps(finding.Statement.Place) || (Covers(c, finding) && Covers(finding, c))))
                continue;
            if (finding.Confidence > Confidence.Possible || sameLength.TrueForAll(c => c.Confidence is Confidence.Possible))
                chosen.Add(finding);
        }

        return chosen;
    }

    // One relation seen from several places becomes one finding, at the place that looks most like a checksum.
    private static List<Ranked> Related(IReadOnlyList<Ranked> findings)
    {
        var kept = new List<Ranked>();
        foreach (var group in Groups(findings))
        {
            var best = group[0];
            var finding = best.Finding with { Equivalents = [.. best.Finding.Equivalents, .. group.Skip(1).Select(g => g.Finding.FieldText())] };
            bool inside = best.IsSymmetric && best.Place.FirstByte > 0 && best.Place.LastByte < finding.Length - 1;
            if (group.Skip(1).MaxBy(g => g.Score) is { } rival && (inside || rival.Score > best.Score - SameScore))
                finding = Cautioned(finding, $"the frames do not tell which place is the checksum of this relation: {rival.Finding.FieldText()}");
            else if (inside)
                finding = Cautioned(finding, "a relation that any byte of it may be computed from; a place in the middle is unusual");
            best = best with { Finding = finding };
            kept.Add(best);
        }

        return kept;
    }

    private static List<List<Ranked>> Groups(IReadOnlyList<Ranked> findings)
    {
        var groups = new List<List<Ranked>>();
        foreach (var finding in findings.OrderBy(f => f.IsCounting).ThenByDescending(f => f.Score).ThenBy(f => f.Place.Bit))
        {
            if (groups.Find(g => g[0].IsSameRelation(finding)) is { } group)
                group.Add(finding);
            else
                groups.Add([finding]);
        }

        return groups;
    }

    // A byte that is a sum makes its lower nibble one, too.
    private static List<Ranked> Shadowed(List<Ranked> findings) =>
        findings.FindAll(f => !findings.Exists(o =>
            o.Place.Bits > f.Place.Bits && o.Place.Overlaps(f.Place) && o.Finding.Confidence >= f.Finding.Confidence
            && o.Finding.Evidence.Log10Chance <= f.Finding.Evidence.Log10Chance));

    private static ChecksumFinding Doubt(Ranked finding, List<Ranked> all)
    {
        var rival = all.Find(o => o != finding && o.Place == finding.Place && o.Finding.Evidence.Log10Chance < DoubtfulLog10
            && o.Finding.Evidence.Contradictions <= finding.Finding.Evidence.Contradictions);
        return rival is null ? finding.Finding : Cautioned(finding.Finding, $"another rule fits as well: {rival.Finding.FieldText()}");
    }

    private static ChecksumFinding Cautioned(ChecksumFinding finding, string text) => finding with
    {
        Cautions = [new Caution(CautionKind.OtherRulesFit, text), .. finding.Cautions],
        Confidence = FindingBuilder.Lower(finding.Confidence, FindingBuilder.Most(CautionKind.OtherRulesFit)),
    };

    private static bool Covers(ChecksumFinding finding, ChecksumFinding other)
    {
        var place = other.Statement.Place;
        return finding.Statement.Over.Any(b => b >= place.FirstByte && b <= place.LastByte);
    }
}
