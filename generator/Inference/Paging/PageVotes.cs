using Locum.Inference.Payload;

namespace Locum.Inference.Paging;

/// <summary>Sorts frames into pages and counts, page by page, how often each bit is set.</summary>
internal sealed class PageVotes
{
    private readonly int[,] _set;
    private readonly int[] _seen;
    private readonly Payloads _payloads;

    private PageVotes(Payloads payloads, int length)
    {
        _payloads = payloads;
        _set = new int[length, payloads.Length * 8];
        _seen = new int[length];
    }

    /// <summary>The page of the frame that was asked for.</summary>
    public int FirstPage { get; private set; }

    /// <summary>Counts all frames. Behind a break the place in the round is found by likeness.</summary>
    /// <param name="payloads">The frames.</param>
    /// <param name="length">Pages in a round.</param>
    /// <param name="firstFrame">The frame whose page is to be told.</param>
    public static PageVotes Count(Payloads payloads, int length, int firstFrame)
    {
        var votes = new PageVotes(payloads, length);
        int page = 0;
        for (int i = 0; i < payloads.Count; i++)
        {
            int step = payloads.Steps[i];
            page = step is Payloads.Apart && i > 0 ? votes.Likest(i) : (page + (i is 0 ? 0 : step)) % length;
            votes.FirstPage = i == firstFrame ? page : votes.FirstPage;
            votes._seen[page]++;
            for (int b = 0; b < payloads.Length * 8; b++)
                votes._set[page, b] += votes.IsSet(i, b) ? 1 : 0;
        }
        return votes;
    }

    /// <summary>The value that a bit has in most frames of a page.</summary>
    public bool Usually(int page, int bit) => 2 * _set[page, bit] > _seen[page];

    /// <summary>Pages on which a bit has both values, each in more than a share of the frames.</summary>
    public IReadOnlyList<int> Varying(int bit, double share) =>
        [.. Enumerable.Range(0, _seen.Length).Where(p => Math.Min(_set[p, bit], _seen[p] - _set[p, bit]) is > 0 and var rarer && rarer > share * _seen[p])];

    /// <summary>The usual payload of a page.</summary>
    public byte[] Page(int page)
    {
        var data = new byte[_payloads.Length];
        for (int b = 0; b < data.Length * 8; b++)
            if (Usually(page, b))
                data[b / 8] |= (byte)(1 << (b % 8));
        return data;
    }

    private int Likest(int number)
    {
        int best = 0;
        int least = int.MaxValue;
        for (int page = 0; page < _seen.Length; page++)
        {
            int differs = 0;
            for (int b = 0; b < _payloads.Length * 8; b++)
                differs += IsSet(number, b) != Usually(page, b) ? 1 : 0;
            if (differs < least)
                (best, least) = (page, differs);
        }
        return best;
    }

    private bool IsSet(int number, int bit) => (_payloads.Word(number, bit / 64) >> (bit % 64) & 1) is 1;
}
