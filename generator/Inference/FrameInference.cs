using Locum.Capture;
using Locum.Inference.Checksums;
using Locum.Inference.Counting;
using Locum.Inference.Paging;
using Locum.Inference.Payload;
using Locum.Inference.Timing;
using Locum.Inference.Transport;
using Locum.Inference.Values;

namespace Locum.Inference;

/// <summary>What one identifier's frames show by themselves, in an order in which each finding leaves less to explain.</summary>
internal static class FrameInference
{
    /// <summary>When the frames come and how they are made up, without their payloads' meaning.</summary>
    public static FrameFindings Look(FrameSeries series, Recording recording, int quantumUs)
    {
        var sending = SendingFinder.Find(series, recording.Parts, quantumUs);
        var payloads = Payloads.Of(series, sending.Steps);
        return new FrameFindings
        {
            Series = series,
            Sending = sending,
            Payloads = payloads,
            Activity = BitActivity.Of(payloads),
            Transport = TransportFinder.Find(series),
        };
    }

    /// <summary>Counters, checksums, payloads in turn, and fields of what is left.</summary>
    public static FrameFindings Explain(FrameFindings frame)
    {
        if (frame.Transport is not null || frame.Payloads.Length is 0)
            return frame;
        var result = ChecksumSearch.Find(frame.Series);
        var obvious = CounterPairs.Mark(frame.Payloads, CounterFinder.Find(frame.Payloads, _ => false)).Where(IsObvious).ToList();
        var chosen = ChecksumChoice.Of(result, frame.Payloads.Length, [.. obvious.Select(c => c.Place)]);
        var sure = chosen.Where(c => c.Confidence > Confidence.Possible).ToList();
        var taken = sure.SelectMany(ChecksumBits.Of).ToHashSet();
        var counters = CounterPairs.Mark(frame.Payloads, CounterFinder.Find(frame.Payloads, taken.Contains));
        counters = [.. counters.Select(c => SequenceBytes.LooksLike(frame, c) ? c with { IsSequence = true } : c)];
        var believed = chosen.Where(c => sure.Contains(c) || !counters.Any(k => Meets(k, c) && k.Confidence > Confidence.Possible)).ToList();
        counters = [.. counters.Where(k => !believed.Exists(c => Meets(k, c)))];
        Take(counters.SelectMany(c => c.Place.Positions()).Concat(believed.SelectMany(ChecksumBits.Of)));
        var slow = CounterPairs.WithoutCopies(frame.Payloads, SlowCounterFinder.Find(frame.Payloads, frame.Activity, taken.Contains), counters);
        Take(slow.SelectMany(c => c.Place.Positions()));
        List<FieldPlace> suspects = [.. result.Suspects.Select(s => new FieldPlace(s.Bit, s.Bits, s.BigEndian)).Where(p => !p.Positions().Any(taken.Contains))];
        var pages = Pages(frame, suspects, taken);
        Take(pages?.Bits ?? []);
        suspects = [.. suspects.Where(s => !s.Positions().Any(taken.Contains))];
        var noisy = suspects.SelectMany(s => s.Positions()).ToHashSet();
        var places = BitGroups.Of(frame.Activity, b => !taken.Contains(b) && !noisy.Contains(b)).Concat(suspects).OrderBy(p => p.Bit);
        return frame with
        {
            Counters = [.. counters.Concat(slow).OrderBy(c => c.Place.Bit)],
            Checksums = believed,
            Suspects = suspects,
            Pages = pages,
            Values = [.. places.Select(p => ValueFinder.Describe(frame.Payloads, p))],
        };

        void Take(IEnumerable<int> bits) => taken.UnionWith(bits);
    }

    // A checksum that nobody knows comes in turn as a whole or not at all.
    private static PageFinding? Pages(FrameFindings frame, IReadOnlyList<FieldPlace> suspects, HashSet<int> taken)
    {
        var pages = PageFinder.Find(frame.Payloads, frame.Activity, taken.Contains, frame.FirstFrame);
        var torn = suspects.Where(s => s.Positions().Where(frame.Activity.Changes).ToList() is var bits
            && bits.Exists(b => pages?.Bits.Contains(b) is true) && !bits.TrueForAll(b => pages?.Bits.Contains(b) is true)).SelectMany(s => s.Positions()).ToHashSet();
        return torn.Count is 0 ? pages : PageFinder.Find(frame.Payloads, frame.Activity, b => taken.Contains(b) || torn.Contains(b), frame.FirstFrame);
    }

    // What counts as most counters do and without a contradiction is no checksum.
    private static bool IsObvious(CounterFinding counter) =>
        counter.Confidence is Confidence.Certain && counter.Rule.IsUsual(counter.Place.Bits) && counter.Place.Bits > 2;

    private static bool Meets(CounterFinding counter, ChecksumFinding checksum) => ChecksumBits.Of(checksum).Intersect(counter.Place.Positions()).Any();
}
