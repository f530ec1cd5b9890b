using System.Runtime.CompilerServices;

namespace Locum.Inference.Checksums;

/// <summary>A field that mostly steps by one from frame to frame.</summary>
/// <param name="Place">Where it stands.</param>
/// <param name="Highest">The highest value seen.</param>
internal readonly record struct CounterField(ChecksumPlace Place, uint Highest)
{
    private const double Regular = 0.75;
    private const int LeastSteps = 8;

    /// <summary>Nibbles and bytes that count, in order of place; a nibble may wrap from 14 to 0, as profile 1 does.</summary>
    public static IReadOnlyList<CounterField> Find(PayloadSet set)
    {
        var fields = new List<CounterField>();
        for (int bit = 0; bit < set.Length * 8; bit += 4)
        {
            Test(set, new ChecksumPlace(bit, 4), fields);
            if (bit % 8 is 0)
                Test(set, new ChecksumPlace(bit, 8), fields);
        }

        return fields;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Test(PayloadSet set, ChecksumPlace place, List<CounterField> fields)
    {
        ulong mask = (1UL << place.Bits) - 1;
        var values = new ulong[set.Distinct];
        for (int i = 0; i < values.Length; i++)
            values[i] = place.Read(set[i]);
        int steps = 0;
        int ones = 0;
        var frames = set.Beginning;
        for (int i = 1; i < frames.Length; i++)
        {
            if (frames[i] == frames[i - 1])
                continue;
            steps++;
            ulong from = values[frames[i - 1]];
            ulong to = values[frames[i]];
            if (((from + 1) & mask) == to || (place.Bits is 4 && from is 14 && to is 0))
                ones++;
        }

        if (steps >= LeastSteps && ones >= Regular * steps)
            fields.Add(new CounterField(place, (uint)values.Max()));
    }
}
