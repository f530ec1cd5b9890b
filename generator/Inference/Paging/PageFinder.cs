using Locum.Inference.Payload;

namespace Locum.Inference.Paging;

/// <summary>Finds payloads that come in turn, with or without a field that numbers them.</summary>
public static class PageFinder
{
    private const int LongestRound = 64;
    private const int Screened = 4_000;
    private const int LeastRounds = 3;
    private const double Repeats = 0.98;
    private const double MostAstray = 0.1;

    // A bit that takes part changes at least twice in a round.
    private const double FlipsPerRound = 1.8;
    private const double MostBits = 0.9;
    private const int WidestSelector = 8;
    private const double NoisyFlips = 0.15;
    private const double Stray = 0.02;

    /// <summary>The payloads in turn; null when there are none.</summary>
    /// <param name="payloads">The frames.</param>
    /// <param name="activity">Their bits.</param>
    /// <param name="taken">Bits of counters and checksums.</param>
    /// <param name="firstFrame">The frame whose payload is the first page.</param>
    public static PageFinding? Find(Payloads payloads, BitActivity activity, Func<int, bool> taken, int firstFrame)
    {
        var free = Enumerable.Range(0, activity.Bits).Where(b => !taken(b) && activity.Changes(b)).ToList();
        var rounds = new Dictionary<int, List<int>>();
        for (int round = 2; round <= LongestRound && round * LeastRounds <= payloads.Count; round++)
        {
            var bits = free.Where(b => activity.FlipRate(b) >= FlipsPerRound / round && Returns(payloads, b, round)).ToList();
            if (bits.Count > 0)
                rounds[round] = bits;
        }
        if (rounds.Count is 0)
            return null;
        int most = rounds.Values.Max(r => r.Count);
        var (length, taking) = rounds.OrderBy(r => r.Key).First(r => r.Value.Count >= MostBits * most);
        // Bits that change in a part of the recording only seem to need longer rounds.
        for (int shorter = 2; shorter < length; shorter++)
            if (length % shorter is 0 && taking.Count(b => Returns(payloads, b, shorter)) >= MostBits * taking.Count)
                length = shorter;
        taking = Whole(taking, free, activity);
        return taking.Count is 0 ? null : Describe(payloads, taking, free, length, firstFrame);
    }

    // Whether the bit's value returns after a round, and so does every change: a bit that seldom changes returns by itself.
    private static bool Returns(Payloads payloads, int bit, int round)
    {
        int tested = 0;
        int misses = 0;
        int flips = 0;
        int astray = 0;
        int together = 0;
        int count = Math.Min(payloads.Count, Screened);
        for (int i = 0; i < count && misses <= (1 - Repeats) * count; i++)
        {
            together = payloads.Steps[i] is 1 ? together + 1 : 0;
            if (together < round)
                continue;
            tested++;
            misses += Differs(payloads, i, i - round, bit);
            if (together == round)
                continue;
            int now = Differs(payloads, i, i - 1, bit);
            flips += now;
            astray += now ^ Differs(payloads, i - round, i - round - 1, bit);
        }
        return tested >= round * (LeastRounds - 1) && misses <= (1 - Repeats) * tested && astray <= MostAstray * flips;
    }

    private static int Differs(Payloads payloads, int a, int b, int bit) => (int)((payloads.Word(a, bit / 64) ^ payloads.Word(b, bit / 64)) >> (bit % 64) & 1);

    private static PageFinding? Describe(Payloads payloads, List<int> bits, List<int> free, int length, int firstFrame)
    {
        var masks = new ulong[payloads.Words];
        foreach (int bit in bits)
            masks[bit / 64] |= 1UL << (bit % 64);
        int tested = 0;
        int hits = 0;
        int together = 0;
        for (int i = 0; i < payloads.Count; i++)
        {
            together = payloads.Steps[i] is 1 ? together + 1 : 0;
            if (together < length)
                continue;
            tested++;
            bool same = true;
            for (int w = 0; w < masks.Length; w++)
                same &= ((payloads.Word(i, w) ^ payloads.Word(i - length, w)) & masks[w]) is 0;
            if (same)
                hits++;
        }
        var votes = PageVotes.Count(payloads, length, firstFrame);
        List<byte[]> pages = [.. Enumerable.Range(0, length).Select(p => votes.Page((p + votes.FirstPage) % length))];
        int distinct = pages.Select(p => string.Concat(bits.Select(b => p[b / 8] >> (b % 8) & 1))).Distinct().Count();
        if (distinct < 2)
            return null;
        double log10 = Chance.Log10Tail(tested, hits, 1.0 / distinct);
        // What varies on some pages only belongs to them.
        var local = free.Select(b => (Bit: b, Pages: votes.Varying(b, bits.Contains(b) ? Stray : 0)))
            .Where(v => bits.Contains(v.Bit) || 2 * v.Pages.Count <= length)
            .SelectMany(v => v.Pages.Select(p => (v.Bit, Page: (p - votes.FirstPage + length) % length))).ToList();
        return new PageFinding
        {
            Pages = pages,
            Bits = [.. bits.Concat(local.Select(v => v.Bit)).Distinct().Order()],
            Varying = local,
            FirstFrame = firstFrame,
            Selector = Selector(pages, bits),
            Evidence = new Evidence(tested, hits, distinct, Chance.OverRules(log10, Math.Log10(LongestRound) + (bits.Count * Math.Log10(2)))),
        };
    }

    // Bits among others of their byte that change often and do not come in turn: parts of a checksum or of noise.
    private static List<int> Whole(List<int> bits, List<int> free, BitActivity activity) =>
        [.. bits.Where(b => !free.Exists(o => o / 8 == b / 8 && !bits.Contains(o) && activity.FlipRate(o) > NoisyFlips))];

    private static FieldPlace? Selector(List<byte[]> pages, List<int> bits)
    {
        for (int width = 1; width <= WidestSelector; width++)
            foreach (int bit in bits.Where(b => (b % 8) + width <= 8))
            {
                var place = new FieldPlace(bit, width);
                if (1 << width >= pages.Count && pages.Select(p => place.Read(p)).Distinct().Count() == pages.Count)
                    return place;
            }
        return null;
    }
}
