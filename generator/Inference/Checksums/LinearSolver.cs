namespace Locum.Inference.Checksums;

/// <summary>Systems of linear equations over GF(2) with up to 64 unknowns.</summary>
internal static class LinearSolver
{
    /// <summary>
    /// The set of columns, as bits, whose XOR is the target; null when there is none. Columns that are not needed are
    /// left out, later ones first.
    /// </summary>
    public static ulong? Solve(ReadOnlySpan<ulong> columns, ulong target)
    {
        // Basis vectors by their highest bit, each with the columns of which it is the sum.
        Span<ulong> basis = stackalloc ulong[64];
        Span<ulong> parts = stackalloc ulong[64];
        for (int c = 0; c < columns.Length; c++)
        {
            ulong vector = columns[c];
            ulong part = 1UL << c;
            Reduce(basis, parts, ref vector, ref part);
            if (vector != 0)
            {
                int top = 63 - (int)ulong.LeadingZeroCount(vector);
                basis[top] = vector;
                parts[top] = part;
            }
        }

        ulong solution = 0;
        Reduce(basis, parts, ref target, ref solution);
        return target is 0 ? solution : null;
    }

    private static void Reduce(ReadOnlySpan<ulong> basis, ReadOnlySpan<ulong> parts, ref ulong vector, ref ulong part)
    {
        for (int bit = 63; bit >= 0; bit--)
        {
            if (((vector >> bit) & 1) != 0 && basis[bit] != 0)
            {
                vector ^= basis[bit];
                part ^= parts[bit];
            }
        }
    }
}
