namespace Locum.Inference.Checksums;

/// <summary>Which checksum findings a draft believes.</summary>
internal static class ChecksumChoice
{
    /// <summary>
    /// The chosen findings of a length; where one would claim an obvious counter, which a relation between bytes can be read as
    /// as well, the best finding at another place instead.
    /// </summary>
    /// <param name="result">The search's outcome.</param>
    /// <param name="length">Data bytes of the frames.</param>
    /// <param name="counters">Places of obvious counters.</param>
    public static IReadOnlyList<ChecksumFinding> Of(ChecksumResult result, int length, IReadOnlyList<FieldPlace> counters)
    {
        var counting = counters.SelectMany(c => c.Positions()).ToHashSet();
        var fitting = result.Chosen.Where(c => c.Length == length).ToList();
        var kept = fitting.Where(c => !Claims(c) && !Cuts(c)).ToList();
        var others = kept.Count == fitting.Count ? [] : result.Findings.Where(f => f.Length == length && !Claims(f) && !Cuts(f)
            && kept.TrueForAll(k => !k.Statement.Place.Overlaps(f.Statement.Place))).Take(1);
        return InOrder(Apart([.. kept.Concat(others).Select(c => Plainer(result, c))]));

        bool Claims(ChecksumFinding finding) => new FieldPlace(finding.Statement.Place.Bit, finding.Statement.Place.Bits, finding.Statement.Place.BigEndian)
            .Positions().Any(counting.Contains);

        // A secret by a part of a wider counter has fewer bytes than that counter has values.
        bool Cuts(ChecksumFinding finding) => finding.Counter is { } by && finding.Protect is null
            && counters.Any(c => c != new FieldPlace(by.Bit, by.Bits, by.BigEndian) && c.Positions().Contains(by.Bit));
    }

    // A polynomial that was solved for fits less surely than a sum or exclusive-or that holds everywhere as well.
    private static ChecksumFinding Plainer(ChecksumResult result, ChecksumFinding chosen) =>
        chosen is { Statement.Rule: FoundCrc { Named: false }, Protect: null }
            ? result.Findings.FirstOrDefault(f => f.Length == chosen.Length && f.Statement.Place == chosen.Statement.Place && f.Evidence.Contradictions is 0 && f.Statement.Rule is FoundXor or FoundSum) ?? chosen
            : chosen;

    // Of two that read each other one is the other's relation told backwards: the surer one stays.
    private static List<ChecksumFinding> Apart(IReadOnlyList<ChecksumFinding> findings)
    {
        var apart = new List<ChecksumFinding>();
        foreach (var finding in findings.OrderByDescending(f => f.Confidence))
            if (!apart.Exists(a => Reads(a, finding) && Reads(finding, a)))
                apart.Add(finding);
        return apart;
    }

    // As they are computed: what reads another one stands behind it.
    private static List<ChecksumFinding> InOrder(List<ChecksumFinding> findings)
    {
        var ordered = new List<ChecksumFinding>();
        while (findings.Count > 0)
        {
            var next = findings.Find(f => !findings.Exists(o => o != f && Reads(f, o))) ?? findings[0];
            ordered.Add(next);
            findings.Remove(next);
        }
        return ordered;
    }

    private static bool Reads(ChecksumFinding reader, ChecksumFinding read) =>
        reader.Statement.Over.Any(b => b >= read.Statement.Place.FirstByte && b <= read.Statement.Place.LastByte);
}
