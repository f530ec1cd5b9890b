using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Locum.Inference.Checksums;

/// <summary>Pairs of payloads, what differs between them, and which places the other bits determine.</summary>
internal sealed class Sample
{
    private readonly PayloadSet _set;
    private readonly byte[] _changed;
    private BitBasis? _basis;

    /// <summary>Prepares a sample.</summary>
    /// <param name="set">All payloads.</param>
    /// <param name="pairs">At least one payload and the one it is compared with.</param>
    public Sample(PayloadSet set, IReadOnlyList<(int A, int B)> pairs)
    {
        _set = set;
        Pairs = pairs;
        _changed = new byte[set.Length];
        foreach (var (a, b) in pairs)
        {
            for (int i = 0; i < set.Length; i++)
                _changed[i] |= (byte)(set[a][i] ^ set[b][i]);
        }
    }

    /// <summary>The pairs.</summary>
    public IReadOnlyList<(int A, int B)> Pairs { get; }

    /// <summary>Independent differences.</summary>
    public int Rank => Basis.Rank;

    /// <summary>True when some differences follow from others, so that <see cref="Determines"/> tells anything.</summary>
    public bool IsTelling => Basis.Rank < Pairs.Count;

    private BitBasis Basis => _basis ??= Reduce();

    /// <summary>Bits of a byte that differ in some pair.</summary>
    public byte Changed(int index) => _changed[index];

    /// <summary>True when every byte of a place, or the nibble, differs in some pair.</summary>
    public bool Changes(ChecksumPlace place)
    {
        for (int b = place.FirstByte; b <= place.LastByte; b++)
        {
            if ((_changed[b] & place.Mask(b)) == 0)
                return false;
        }

        return true;
    }

    /// <summary>
    /// True when the bits outside the place determine every bit of it by a linear rule, on these pairs; any CRC needs that.
    /// </summary>
    public bool Determines(ChecksumPlace place)
    {
        Span<int> columns = stackalloc int[place.Bits];
        for (int i = 0; i < columns.Length; i++)
            columns[i] = (place.FirstByte * 8) + (place.Bits < 8 ? place.Bit % 8 : 0) + i;
        return Basis.Determines(columns);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private BitBasis Reduce()
    {
        int words = (_set.Length + 7) / 8;
        var basis = new BitBasis(words);
        Span<ulong> vector = stackalloc ulong[words];
        var bytes = MemoryMarshal.AsBytes(vector);
        foreach (var (a, b) in Pairs)
        {
            vector.Clear();
            for (int i = 0; i < _set.Length; i++)
                bytes[i] = (byte)(_set[a][i] ^ _set[b][i]);
            basis.Add(vector);
        }

        return basis;
    }
}
