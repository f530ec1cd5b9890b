using System.Numerics;
using System.Runtime.CompilerServices;

namespace Locum.Inference.Checksums;

/// <summary>
/// Polynomials over GF(2) in little-endian words: the coefficient of x^e is bit e % 64 of word e / 64. The inner loops
/// of the search, here and beside, are compiled with optimisation at once: a search is over before they would be found hot.
/// </summary>
internal static class Gf2Polynomial
{
    /// <summary>The highest power; -1 for zero.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int Degree(ReadOnlySpan<ulong> p)
    {
        for (int w = p.Length - 1; w >= 0; w--)
        {
            if (p[w] != 0)
                return (w * 64) + BitOperations.Log2(p[w]);
        }

        return -1;
    }

    /// <summary>
    /// Puts the greatest common divisor into <paramref name="a"/>; <paramref name="b"/> is used up. Gives up, with a
    /// degree below <paramref name="least"/>, as soon as the divisor cannot reach that degree.
    /// </summary>
    /// <returns>Its degree; -1 when both are zero.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int Gcd(Span<ulong> a, Span<ulong> b, int least)
    {
        var high = a;
        var low = b;
        int highDegree = Degree(high);
        int lowDegree = Degree(low);
        if (highDegree < lowDegree)
            Swap(ref high, ref low, ref highDegree, ref lowDegree);
        while (lowDegree >= 0)
        {
            if (lowDegree < least)
                return lowDegree;
            highDegree = Reduce(high, highDegree, low, lowDegree);
            Swap(ref high, ref low, ref highDegree, ref lowDegree);
        }

        if (high != a)
            high.CopyTo(a);
        return highDegree;
    }

    /// <summary>Replaces <paramref name="a"/> by its remainder; returns the remainder's degree.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int Reduce(Span<ulong> a, int degree, ReadOnlySpan<ulong> by, int byDegree)
    {
        while (degree >= byDegree)
        {
            int shift = degree - byDegree;
            int words = shift >> 6;
            int bits = shift & 63;
            int top = byDegree >> 6;
            if (bits is 0)
            {
                for (int w = 0; w <= top; w++)
                    a[w + words] ^= by[w];
            }
            else
            {
                ulong carry = 0;
                for (int w = 0; w <= top; w++)
                {
                    a[w + words] ^= (by[w] << bits) | carry;
                    carry = by[w] >> (64 - bits);
                }

                if (carry != 0)
                    a[top + words + 1] ^= carry;
            }

            degree = Degree(a[..((degree >> 6) + 1)]);
        }

        return degree;
    }

    private static void Swap(ref Span<ulong> a, ref Span<ulong> b, ref int degreeA, ref int degreeB)
    {
        var s = a;
        a = b;
        b = s;
        (degreeA, degreeB) = (degreeB, degreeA);
    }
}
