using Locum.Inference.Payload;

namespace Locum.Inference.Paging;

/// <summary>Finds payloads that come in turn, with or without a field that numbers them.</summary>
public static class PageFinder
{
    private const int LongestRound = 64;
    private const int Screened = 4_000;
    private const int LeastRounds = 3;
    private const double Repeats = 0.98;

    // A bit that takes part changes at least twice in a round.
    private const double FlipsPerRound = 1.8;
    private const double MostBits = 0.9;
    private const int WidestSelector = 8;

    /// <summary>The payloads in turn; null when there are none.</summary>
    /// <param name="payloads">The frames.</param>
    /// <param name="activity">Their bits.</param>
    /// <param name="taken">Bits of counters and checksums.</param>
    /// <param name="firstFrame">The frame whose payload is the first page.</param>
    public static PageFinding? Find(Payloads payloads, BitActivity activity, Func<int, bool> taken, int firstFrame)
    {
        var free = Enumerable.Range(0, activity.Bits).Where(b => !taken(b) && activity.Flips(b) > 1).ToList();
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
        return Describe(payloads, taking, length, firstFrame);
    }

    private static bool Returns(Payloads payloads, int bit, int round)
    {
        int tested = 0;
        int misses = 0;
        int together = 0;
        int count = Math.Min(payloads.Count, Screened);
        for (int i = 0; i < count && misses <= (1 - Repeats) * count; i++)
        {
            together = payloads.Steps[i] is 1 ? together + 1 : 0;
            if (together < round)
                continue;
            tested++;
            misses += (int)((payloads.Word(i, bit / 64) ^ payloads.Word(i - round, bit / 64)) >> (bit % 64) & 1);
        }
        return tested >= round * (LeastRounds - 1) && misses <= (1 - Repeats) * tested;
    }

    private static PageFinding Describe(Payloads payloads, List<int> bits, int length, int firstFrame)
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
        var pages = Majorities(payloads, length, firstFrame);
        int distinct = pages.Select(p => string.Concat(bits.Select(b => p[b / 8] >> (b % 8) & 1))).Distinct().Count();
        double log10 = Chance.Log10Tail(tested, hits, 1.0 / distinct);
        return new PageFinding
        {
            Pages = pages,
            Bits = bits,
            FirstFrame = firstFrame,
            Selector = Selector(pages, bits),
            Evidence = new Evidence(tested, hits, distinct, Chance.OverRules(log10, Math.Log10(LongestRound) + (bits.Count * Math.Log10(2)))),
        };
    }

    // Of every page and bit the value in most frames. Behind a break the place in the round is found by likeness.
    private static List<byte[]> Majorities(Payloads payloads, int length, int firstFrame)
    {
        int bits = payloads.Length * 8;
        var votes = new int[length, bits];
        var seen = new int[length];
        int phase = 0;
        int first = 0;
        for (int i = 0; i < payloads.Count; i++)
        {
            int step = payloads.Steps[i];
            phase = step is Payloads.Apart && i > 0 ? Likest(payloads, i, votes, seen) : (phase + (i is 0 ? 0 : step)) % length;
            first = i == firstFrame ? phase : first;
            seen[phase]++;
            for (int b = 0; b < bits; b++)
                votes[phase, b] += (int)(payloads.Word(i, b / 64) >> (b % 64) & 1);
        }
        var pages = new List<byte[]>();
        for (int page = 0; page < length; page++)
        {
            var data = new byte[payloads.Length];
            for (int b = 0; b < bits; b++)
                if (2 * votes[page, b] > seen[page])
                    data[b / 8] |= (byte)(1 << (b % 8));
            pages.Add(data);
        }
        return [.. pages.Skip(first), .. pages.Take(first)];
    }

    private static int Likest(Payloads payloads, int number, int[,] votes, int[] seen)
    {
        var best = (Page: 0, Score: long.MinValue);
        for (int page = 0; page < seen.Length; page++)
        {
            long score = 0;
            for (int b = 0; b < votes.GetLength(1); b++)
            {
                bool set = (payloads.Word(number, b / 64) >> (b % 64) & 1) is 1;
                bool usually = 2 * votes[page, b] > seen[page];
                score += set == usually ? 0 : -1;
            }
            if (score > best.Score)
                best = (page, score);
        }
        return best.Page;
    }

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
