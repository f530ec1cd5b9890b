namespace Locum.Inference.Payload;

/// <summary>How the bits of payloads behave, one by one.</summary>
public sealed class BitActivity
{
    private const int WordBits = 64;

    private readonly ulong[] _changing;
    private readonly ulong[] _first;
    private readonly int[] _flips;

    private BitActivity(ulong[] first, ulong[] changing, int[] flips, int pairs) =>
        (_first, _changing, _flips, Pairs) = (first, changing, flips, pairs);

    /// <summary>Neighbouring frames that were compared.</summary>
    public int Pairs { get; }

    /// <summary>Number of bits.</summary>
    public int Bits => _flips.Length;

    /// <summary>Looks at a range of frames.</summary>
    public static BitActivity Of(Payloads payloads, int first, int count)
    {
        int words = payloads.Words;
        var start = new ulong[words];
        var changing = new ulong[words];
        var flips = new int[payloads.Length * 8];
        int pairs = 0;
        for (int word = 0; word < words && count > 0; word++)
        {
            ulong before = start[word] = payloads.Word(first, word);
            pairs = 0;
            for (int i = first + 1; i < first + count; i++)
            {
                ulong now = payloads.Word(i, word);
                changing[word] |= now ^ start[word];
                if (payloads.Steps[i] is 1)
                {
                    pairs++;
                    for (ulong changed = now ^ before; changed != 0; changed &= changed - 1)
                        flips[(word * WordBits) + System.Numerics.BitOperations.TrailingZeroCount(changed)]++;
                }
                before = now;
            }
        }
        return new BitActivity(start, changing, flips, pairs);
    }

    /// <summary>Looks at all frames.</summary>
    public static BitActivity Of(Payloads payloads) => Of(payloads, 0, payloads.Count);

    /// <summary>True if the bit has both values somewhere.</summary>
    public bool Changes(int bit) => (_changing[bit / WordBits] >> (bit % WordBits) & 1) is 1;

    /// <summary>The bit's value in the first frame.</summary>
    public bool IsSet(int bit) => (_first[bit / WordBits] >> (bit % WordBits) & 1) is 1;

    /// <summary>How often the bit differs between neighbours.</summary>
    public int Flips(int bit) => _flips[bit];

    /// <summary>The same as a share of the pairs compared.</summary>
    public double FlipRate(int bit) => Pairs is 0 ? 0 : (double)_flips[bit] / Pairs;
}
