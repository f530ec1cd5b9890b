using Locum.Capture;

namespace Locum.Inference.Checksums;

/// <summary>Finds the checksum rules of frames from their payloads.</summary>
public static class ChecksumSearch
{
    // Lengths with fewer frames than this share are oddities of the bus, not another layout.
    private const double LeastShare = 0.02;

    /// <summary>Searches the frames of one identifier.</summary>
    public static ChecksumResult Find(FrameSeries series, SearchLimits? limits = null)
    {
        limits ??= new SearchLimits();
        var tally = new Tally();
        var sets = PayloadSet.Of(series);
        var findings = new List<ChecksumFinding>();
        var suspects = new List<ChecksumPlace>();
        bool noise = false;
        foreach (var set in sets.Where(s => s.Frames.Length >= LeastShare * series.Count))
        {
            var search = new LengthSearch(set, series.Id, tally);
            var ranked = Search(search, new WordingContext(series.Id, set, search.Counters, [.. sets.Where(s => s != set)]), tally);
            var compared = Ranking.Compare(ranked);
            noise |= ranked.Count > 0;
            findings.AddRange(compared);
            if (compared.Count is 0)
                suspects.AddRange(SuspectSearch.Find(set, search.Counters));
        }

        var sorted = Ranking.Sort(findings);
        return new ChecksumResult
        {
            Series = series,
            Findings = [.. sorted.Take(limits.MostFindings)],
            Chosen = Ranking.Choose(sorted),
            RulesTried = tally.Total,
            PlacesTried = tally.Places,
            Reason = sorted.Count > 0 ? NoChecksumReason.None : Why(sets, noise, suspects.Count > 0),
            Suspects = sorted.Count > 0 ? [] : suspects,
        };
    }

    /// <summary>Searches several series side by side; results in the order of <paramref name="series"/>, whatever finishes first.</summary>
    public static IReadOnlyList<ChecksumResult> FindAll(IReadOnlyList<FrameSeries> series, SearchLimits? limits = null)
    {
        var results = new ChecksumResult[series.Count];
        int most = limits is { Parallel: > 0 } ? limits.Parallel : Environment.ProcessorCount;
        Parallel.For(0, series.Count, new ParallelOptions { MaxDegreeOfParallelism = most }, i => results[i] = Find(series[i], limits));
        return results;
    }

    private static List<Ranked> Search(LengthSearch search, WordingContext context, Tally tally)
    {
        var verified = search.Run();
        var builder = new FindingBuilder(context, tally, TransportFrames.Are(context.Set, context.Id));
        return
        [
            .. verified.Select(v => new Candidate(v, context)).Where(c => c.Wordings.Count > 0 && c.Responds)
                .GroupBy(c => (c.Verified.Fit.Place, c.Signature))
                .Select(g => builder.Build([.. g])),
        ];
    }

    private static NoChecksumReason Why(IReadOnlyList<PayloadSet> sets, bool noise, bool suspects)
    {
        if (sets.Count is 0)
            return NoChecksumReason.Empty;
        if (sets.All(s => s.Distinct is 1))
            return NoChecksumReason.NeverChanges;
        if (noise || sets.All(s => s.Distinct < LengthSearch.LeastDistinct))
            return NoChecksumReason.TooFewPayloads;
        return suspects ? NoChecksumReason.NoRuleFits : NoChecksumReason.NothingDependent;
    }
}
