using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Locum.Inference.Checksums;

/// <summary>
/// Finds CRCs of any polynomial by algebra. Over payloads of one length, start value, final value and extra bytes add
/// up to one constant, which the difference of two payloads cancels: with the message difference M(x), k constant
/// bytes read behind it and the difference C(x) of the checksums,
/// <code>M(x) · x^(8k + width) + C(x) = 0  modulo the polynomial</code>
/// so the polynomial divides all these differences, and their greatest common divisor leads to it. Reflection of the
/// input mirrors each byte of M, reflection of the result mirrors C.
/// </summary>
internal sealed class CrcSearch(PayloadSet set)
{
    private const int ByteBits = 8;
    private const int LeastPairs = 4;

    // Polynomials without the term x^0 leave the last bit of the result constant.
    private const double OddPolynomials8 = 1 << 7;
    private const double OddPolynomials16 = 1 << 15;

    /// <summary>Numbers of constant bytes behind the payload: none, one or two, or the four of a long identifier.</summary>
    private static readonly int[] s_behind = [0, 1, 2, 4];

    private readonly HashSet<ulong> _seen = [];

    /// <summary>All CRCs at a place that fit a sample.</summary>
    /// <param name="spot">8 or 16 bits.</param>
    /// <param name="sample">Payloads to be compared, chosen by the same classes.</param>
    /// <param name="classes">Constants chosen by a counter; then only plain ranges and at most one byte behind are tried.</param>
    public IReadOnlyList<CrcFit> Find(SearchSpace.Spot spot, Sample sample, CounterClasses? classes)
    {
        var place = spot.Place;
        var fits = new List<CrcFit>();
        _seen.Clear();
        foreach (var (range, behind) in Shapes(spot.Ranges, classes))
        {
            if (!IsNew(range, place, behind, sample))
                continue;
            for (int reflections = 0; reflections < 4; reflections++)
            {
                var shape = new Shape(place, range, behind, (reflections & 1) != 0, (reflections & 1) != (reflections >> 1));
                Try(shape, sample.Pairs, classes, fits);
            }
        }

        return fits;
    }

    /// <summary>Rules that <see cref="Find"/> tries.</summary>
    public static double Count(SearchSpace.Spot spot, CounterClasses? classes) =>
        4 * (spot.Place.Bits is ByteBits ? OddPolynomials8 : OddPolynomials16) * Shapes(spot.Ranges, classes).Count();

    private static IEnumerable<(ByteRange Range, int Behind)> Shapes(IReadOnlyList<ByteRange> ranges, CounterClasses? classes) =>
        from range in ranges
        where classes is null || (range.Plainness <= 1 && !range.OwnZero)
        from behind in s_behind
        where classes is null || behind <= 1
        select (range, behind);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Try(Shape shape, IReadOnlyList<(int A, int B)> pairs, CounterClasses? classes, List<CrcFit> fits)
    {
        int width = shape.Place.Bits;
        int words = (((shape.Range.Bytes.Length + shape.Behind) * ByteBits) + width + 63) / 64;
        Span<ulong> divisor = stackalloc ulong[words];
        Span<ulong> other = stackalloc ulong[words];
        int degree = -1;
        int used = 0;
        for (int i = 0; i < pairs.Count && (degree != width || used < LeastPairs); i++)
        {
            Difference(shape, pairs[i], other);
            int own = Gf2Polynomial.Degree(other);
            if (own < 0)
                continue;
            if (own < width)
                return;
            degree = Gf2Polynomial.Gcd(divisor, other, width);
            if (degree < width)
                return;
            used++;
        }

        // One difference alone is divisible by many polynomials.
        if (used < 2)
            return;
        foreach (ulong poly in Polynomials(divisor, degree, width))
        {
            if (Mixes(poly))
                fits.Add(new CrcFit(shape.Place, shape.Range, shape.Behind, shape.ReflectIn, shape.ReflectOut, new CrcTable(width, poly)) { Classes = classes });
        }
    }

    // A polynomial in x^4 moves nibbles about without mixing their bits, which is the business of XORs and fits any copies.
    private static bool Mixes(ulong poly) => (poly & ~0x1111_1111_1111_1111UL) != 0;

    // Shapes that place the changing bytes alike give the same differences, so only the first is tried. The plain ranges
    // are kept all the same: one of them may need no unknown constant.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool IsNew(ByteRange range, ChecksumPlace place, int behind, Sample sample)
    {
        const ulong prime = 0x9E37_79B9_7F4A_7C15;
        ulong hash = 0;
        for (int i = 0; i < range.Bytes.Length; i++)
        {
            int index = range.Bytes[i];
            if ((sample.Changed(index) & range.Mask(index, place)) != 0)
            {
                hash = (hash ^ (ulong)((index << 16) + range.Bytes.Length - i + behind)) * prime;
                hash ^= hash >> 31;
            }
        }

        return hash != 0 && (_seen.Add(hash) || range is { Plainness: <= 1, OwnZero: false });
    }

    // The bytes of the polynomial, lowest power first: result, constant bytes, message from its last byte on.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Difference(Shape shape, (int A, int B) pair, Span<ulong> polynomial)
    {
        polynomial.Clear();
        var bytes = MemoryMarshal.AsBytes(polynomial);
        var a = set[pair.A];
        var b = set[pair.B];
        var place = shape.Place;
        int resultBytes = place.Bits / ByteBits;
        ulong result = place.Read(a) ^ place.Read(b);
        if (shape.ReflectOut)
            result = Bits.Reverse(result, place.Bits);
        for (int i = 0; i < resultBytes; i++)
            bytes[i] = (byte)(result >> (ByteBits * i));
        int[] range = shape.Range.Bytes;
        int at = resultBytes + shape.Behind;
        for (int i = range.Length - 1; i >= 0; i--, at++)
        {
            int index = range[i];
            if (shape.Range.OwnZero && place.Mask(index) != 0)
                continue;
            byte difference = (byte)(a[index] ^ b[index]);
            bytes[at] = shape.ReflectIn ? Bits.Reverse(difference) : difference;
        }
    }

    // The common divisor may have chance factors beside the polynomial; then every polynomial that divides it fits.
    private static List<ulong> Polynomials(ReadOnlySpan<ulong> divisor, int degree, int width)
    {
        if (degree == width)
            return (divisor[0] & 1) != 0 ? [divisor[0] & ~(1UL << width)] : [];
        ulong[] known = width is ByteBits ? [.. Enumerable.Range(0, (int)OddPolynomials8).Select(i => (ulong)((2 * i) + 1))] : KnownPolynomials.OfWidth(width);
        var fits = new List<ulong>();
        Span<ulong> rest = stackalloc ulong[divisor.Length];
        foreach (ulong poly in known)
        {
            divisor.CopyTo(rest);
            if (Gf2Polynomial.Reduce(rest, degree, [poly | (1UL << width)], width) < 0)
                fits.Add(poly);
        }

        return fits;
    }

    private readonly record struct Shape(ChecksumPlace Place, ByteRange Range, int Behind, bool ReflectIn, bool ReflectOut);
}
