using System.Runtime.CompilerServices;

namespace Locum.Inference.Checksums;

/// <summary>
/// The payloads that satisfy a rule, thinned out when there are many, and what changes among them. What a corrupted
/// frame changed is left out.
/// </summary>
internal sealed class HitView
{
    private const int Most = 512;

    private readonly PayloadSet _set;
    private readonly Fit _fit;
    private readonly int[] _indices;
    private readonly byte[] _changed;
    private readonly byte[] _covered;
    private readonly bool[] _hit;

    /// <summary>Prepares the view.</summary>
    public HitView(Verified verified, PayloadSet set)
    {
        _set = set;
        _fit = verified.Fit;
        _hit = verified.Hit;
        int[] hits = [.. Enumerable.Range(0, set.Distinct).Where(i => verified.Hit[i])];
        _changed = new byte[set.Length];
        _covered = [.. Enumerable.Range(0, set.Length).Select(Effective)];
        foreach (int i in hits)
        {
            for (int b = 0; b < set.Length; b++)
                _changed[b] |= (byte)(set[i][b] ^ set[hits[0]][b]);
        }

        _indices = hits.Length <= Most ? hits : [.. Enumerable.Range(0, Most).Select(i => hits[(int)((long)i * hits.Length / Most)])];
    }

    /// <summary>Numbers of the payloads.</summary>
    public IReadOnlyList<int> Indices => _indices;

    /// <summary>Bits of a byte that change.</summary>
    public byte Changed(int index) => _changed[index];

    /// <summary>Bits of a byte that change and are not the place's own.</summary>
    public byte ChangedOther(int index) => (byte)(_changed[index] & ~_fit.Place.Mask(index));

    /// <summary>Bits of the place that change.</summary>
    public int ChangedOwnBits
    {
        get
        {
            int bits = 0;
            for (int b = _fit.Place.FirstByte; b <= _fit.Place.LastByte; b++)
                bits += System.Numerics.BitOperations.PopCount((uint)(_changed[b] & _fit.Place.Mask(b)));
            return bits;
        }
    }

    /// <summary>Bits of a byte that the rule reads and that make a difference to it.</summary>
    public byte Covered(int index) => _covered[index];

    /// <summary>Bytes that change and are covered, ascending; the place's own are left out.</summary>
    public IReadOnlyList<int> SeenBytes => [.. Enumerable.Range(0, _set.Length).Where(b => (_changed[b] & _covered[b]) != 0)];

    /// <summary>
    /// Independent differences of the covered bits over GF(2), within the classes of the rule; at most
    /// <paramref name="enough"/> are counted.
    /// </summary>
    /// <param name="without">A byte to leave out; -1 for none.</param>
    /// <param name="enough">Where to stop.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public int Rank(int without, int enough)
    {
        int words = (_set.Length + 7) / 8;
        var basis = new BitBasis(words);
        var first = new int[_fit.Classes?.Count ?? 1];
        Array.Fill(first, -1);
        Span<ulong> vector = stackalloc ulong[words];
        foreach (int i in _indices)
        {
            ref int known = ref first[_fit.Classes?.Of(_set[i]) ?? 0];
            if (known < 0)
            {
                known = i;
                continue;
            }

            vector.Clear();
            var bytes = System.Runtime.InteropServices.MemoryMarshal.AsBytes(vector);
            for (int b = 0; b < _covered.Length; b++)
            {
                if (b != without)
                    bytes[b] = (byte)((_set[i][b] ^ _set[known][b]) & _covered[b]);
            }

            if (basis.Add(vector) && basis.Rank >= enough)
                break;
        }

        return basis.Rank;
    }

    /// <summary>
    /// Steps from frame to frame in which covered bits outside one byte change, for the byte that leaves fewest.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public int LeastSteps()
    {
        var steps = new int[_set.Length];
        int all = 0;
        var frames = _set.Beginning;
        for (int f = 1; f < frames.Length; f++)
        {
            if (frames[f] == frames[f - 1] || !_hit[frames[f]] || !_hit[frames[f - 1]])
                continue;
            var from = _set[frames[f - 1]];
            var to = _set[frames[f]];
            int changed = 0;
            int last = 0;
            for (int b = 0; b < _covered.Length; b++)
            {
                if (((from[b] ^ to[b]) & _covered[b]) != 0)
                {
                    changed++;
                    last = b;
                }
            }

            all += changed > 0 ? 1 : 0;
            if (changed is 1)
                steps[last]++;
        }

        return all - steps.Max();
    }

    /// <summary>Of the steps from frame to frame that change covered bits, the share that changes the place, too; 1 without steps.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public double ChangingShare()
    {
        int steps = 0;
        int changes = 0;
        var frames = _set.Beginning;
        for (int f = 1; f < frames.Length; f++)
        {
            if (frames[f] == frames[f - 1] || !_hit[frames[f]] || !_hit[frames[f - 1]])
                continue;
            var from = _set[frames[f - 1]];
            var to = _set[frames[f]];
            bool covered = false;
            for (int b = 0; b < _covered.Length; b++)
                covered |= ((from[b] ^ to[b]) & _covered[b]) != 0;
            steps += covered ? 1 : 0;
            changes += covered && _fit.Place.Read(from) != _fit.Place.Read(to) ? 1 : 0;
        }

        return steps is 0 ? 1 : (double)changes / steps;
    }

    /// <summary>
    /// Steps from frame to frame, and those in which the place changes by something else than its most common difference.
    /// </summary>
    public (int Uneven, int All) Steps()
    {
        ulong mask = ulong.MaxValue >> (64 - _fit.Place.Bits);
        var differences = new Dictionary<ulong, int>();
        int steps = 0;
        var frames = _set.Beginning;
        for (int f = 1; f < frames.Length; f++)
        {
            if (frames[f] == frames[f - 1] || !_hit[frames[f]] || !_hit[frames[f - 1]])
                continue;
            steps++;
            ulong difference = (_fit.Place.Read(_set[frames[f]]) - _fit.Place.Read(_set[frames[f - 1]])) & mask;
            differences[difference] = differences.GetValueOrDefault(difference) + 1;
        }

        return (steps is 0 ? 0 : steps - differences.Values.Max(), steps);
    }

    /// <summary>Different contents of the covered bits.</summary>
    public int DistinctCovered()
    {
        var seen = new HashSet<string>();
        var text = new char[_covered.Length];
        foreach (int i in _indices)
        {
            for (int b = 0; b < text.Length; b++)
                text[b] = (char)(_set[i][b] & _covered[b]);
            seen.Add(new string(text));
        }

        return seen.Count;
    }

    private byte Effective(int index)
    {
        int bits = 0;
        for (int bit = 0; bit < 8; bit++)
        {
            if (_fit.Response(index, bit) != 0)
                bits |= 1 << bit;
        }

        return (byte)bits;
    }
}
