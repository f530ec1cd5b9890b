using System.Numerics;
using System.Runtime.CompilerServices;

namespace Locum.Inference.Checksums;

/// <summary>An echelon basis of bit vectors over GF(2), fully reduced: a pivot's column is 0 in all other rows.</summary>
/// <param name="words">64-bit words of a vector.</param>
internal sealed class BitBasis(int words)
{
    private readonly List<ulong[]> _rows = [];
    private readonly List<int> _pivots = [];
    private readonly ulong[] _work = new ulong[words];

    /// <summary>Independent vectors so far.</summary>
    public int Rank => _rows.Count;

    /// <summary>Adds a vector; false when those before already span it.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool Add(ReadOnlySpan<ulong> vector)
    {
        vector.CopyTo(_work);
        for (int r = 0; r < _rows.Count; r++)
        {
            if (Bit(_work, _pivots[r]))
                Xor(_work, _rows[r]);
        }

        int pivot = FirstBit(_work);
        if (pivot < 0)
            return false;
        foreach (var row in _rows)
        {
            if (Bit(row, pivot))
                Xor(row, _work);
        }

        _rows.Add([.. _work]);
        _pivots.Add(pivot);
        return true;
    }

    /// <summary>
    /// True when each of the columns is a linear function of the columns outside the set, on all that was added. A
    /// relation among columns is orthogonal to every row; the relations restricted to the set must reach every vector.
    /// With the rows fully reduced, a pivot column equals its row without the pivot, a free column equals itself: the
    /// columns of the set must be independent in terms of the free columns.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool Determines(ReadOnlySpan<int> columns)
    {
        var independent = new BitBasis(words);
        Span<ulong> vector = stackalloc ulong[words];
        foreach (int column in columns)
        {
            vector.Clear();
            int row = _pivots.IndexOf(column);
            if (row >= 0)
                _rows[row].CopyTo(vector);
            vector[column >> 6] ^= 1UL << (column & 63);
            if (!independent.Add(vector))
                return false;
        }

        return true;
    }

    private static bool Bit(ReadOnlySpan<ulong> vector, int index) => ((vector[index >> 6] >> (index & 63)) & 1) != 0;

    private static void Xor(Span<ulong> vector, ReadOnlySpan<ulong> other)
    {
        for (int w = 0; w < vector.Length; w++)
            vector[w] ^= other[w];
    }

    private static int FirstBit(ReadOnlySpan<ulong> vector)
    {
        for (int w = 0; w < vector.Length; w++)
        {
            if (vector[w] != 0)
                return (w * 64) + BitOperations.TrailingZeroCount(vector[w]);
        }

        return -1;
    }
}
