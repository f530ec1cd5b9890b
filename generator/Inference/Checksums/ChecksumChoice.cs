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
        var fitting = result.Chosen.Where(c => c.Length == length).Select(c => Plainer(result, c)).ToList();
        var kept = fitting.Where(c => !Claims(c)).ToList();
        if (kept.Count == fitting.Count)
            return kept;
        var best = result.Findings.Where(f => f.Length == length && !Claims(f) && kept.TrueForAll(k => !k.Statement.Place.Overlaps(f.Statement.Place))).ToList();
        if (best.Count > 0)
            kept.Add(best[0]);
        return kept;

        bool Claims(ChecksumFinding finding) => new FieldPlace(finding.Statement.Place.Bit, finding.Statement.Place.Bits, finding.Statement.Place.BigEndian)
            .Positions().Any(counting.Contains);
    }

    // A polynomial that was solved for fits less surely than a sum or exclusive-or that holds everywhere as well.
    private static ChecksumFinding Plainer(ChecksumResult result, ChecksumFinding chosen) =>
        chosen is { Statement.Rule: FoundCrc { Named: false }, Protect: null }
            ? result.Findings.FirstOrDefault(f => f.Length == chosen.Length && f.Evidence.Contradictions is 0 && f.Statement.Rule is FoundXor or FoundSum) ?? chosen
            : chosen;
}
