using Locum.Inference.Payload;

namespace Locum.Inference.Values;

/// <summary>
/// Groups changing bits to fields. In a number that moves, each bit changes less often than the one below it; where that is
/// turned round, another field begins.
/// </summary>
public static class BitGroups
{
    // Bits that never change may lie between two of one field.
    private const int Gap = 1;

    // How much more often a higher bit may change, for the sake of few changes.
    private const double Rise = 1.6;
    private const int Few = 4;
    private const int Widest = 32;

    // Bits that all change with about every second frame belong to one checksum rather than to several fields.
    private const int NoisyBits = 4;
    private const double NoisyLow = 0.2;
    private const double NoisyHigh = 0.8;

    /// <summary>The fields, by their lowest byte.</summary>
    /// <param name="activity">The bits.</param>
    /// <param name="free">True for bits that are not part of something known.</param>
    public static IReadOnlyList<FieldPlace> Of(BitActivity activity, Func<int, bool> free)
    {
        var groups = new List<List<int>>();
        for (int first = 0; first < activity.Bits; first += 8)
            groups.AddRange(InByte(activity, first, free));
        return [.. Join(activity, groups)];
    }

    private static List<List<int>> InByte(BitActivity activity, int first, Func<int, bool> free)
    {
        var groups = new List<List<int>>();
        var changing = Enumerable.Range(first, Math.Min(8, activity.Bits - first)).Where(b => free(b) && activity.Changes(b)).ToList();
        if (changing.Count >= NoisyBits && changing.All(b => activity.FlipRate(b) is > NoisyLow and < NoisyHigh)
            && Enumerable.Range(changing[0], changing[^1] - changing[0]).All(free))
            return [changing];
        for (int bit = first; bit < first + 8; bit++)
        {
            if (!free(bit) || !activity.Changes(bit))
                continue;
            bool goesOn = groups.Count > 0 && bit - groups[^1][^1] <= Gap + 1 && Falls(activity, groups[^1][^1], bit)
                && Enumerable.Range(groups[^1][^1] + 1, bit - groups[^1][^1] - 1).All(free);
            if (goesOn)
                groups[^1].Add(bit);
            else
                groups.Add([bit]);
        }
        return groups;
    }

    private static bool Falls(BitActivity activity, int lower, int higher) =>
        activity.Flips(higher) <= (Rise * activity.Flips(lower)) + Few;

    private static IEnumerable<FieldPlace> Join(BitActivity activity, List<List<int>> groups)
    {
        for (int i = 0; i < groups.Count; i++)
        {
            int last = i;
            bool? big = null;
            // From group to group while each reaches the border of its byte towards the next one.
            while (last + 1 < groups.Count && Width(groups, i, last + 1) <= Widest
                && Order(activity, groups[last], groups[last + 1]) is { } order && (big ?? order) == order)
            {
                big = order;
                last++;
            }
            int low = big is true ? groups[last][0] : groups[i][0];
            int bits = big switch
            {
                null => groups[i][^1] - groups[i][0] + 1,
                false => groups[last][^1] - groups[i][0] + 1,
                // From the lowest bit of the last byte up to the highest of the first.
                true => (8 - (groups[last][0] % 8)) + (8 * (last - i - 1)) + (groups[i][^1] % 8) + 1,
            };
            yield return new FieldPlace(low, bits, big is true);
            i = last;
        }
    }

    private static int Width(List<List<int>> groups, int first, int last) => 8 * ((groups[last][0] / 8) - (groups[first][0] / 8) + 1);

    // True: the first group continues the second (big endian); false: the second continues the first; null: they are apart.
    private static bool? Order(BitActivity activity, List<int> first, List<int> second)
    {
        if ((second[0] / 8) - (first[0] / 8) != 1)
            return null;
        bool little = first[^1] % 8 is 7 && second[0] % 8 is 0 && Falls(activity, first[^1], second[0]) && activity.Flips(first[0]) > activity.Flips(second[0]);
        bool big = second[^1] % 8 is 7 && first[0] % 8 is 0 && Falls(activity, second[^1], first[0]) && activity.Flips(second[0]) > activity.Flips(first[0]);
        return little == big ? null : big;
    }
}
