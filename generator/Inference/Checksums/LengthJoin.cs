using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>
/// Tells the start value of a CRC from its final value by frames of two lengths: the start value reaches the result
/// through all the bytes, the final value directly, so each length gives one equation of the width's bits.
/// </summary>
internal static class LengthJoin
{
    private const int MostBits = 16;

    /// <summary>Parameters that explain the constants of both lengths; null when no other length has the CRC, too.</summary>
    public static CrcParameters? Solve(CrcFit fit, ulong constant, WordingContext context)
    {
        if (fit.Place.Bits > MostBits || fit.Range is not { Plainness: 0, OwnZero: false } || fit.Behind > 0)
            return null;
        foreach (var other in context.Others)
        {
            if (fit.Place.LastByte >= other.Length)
                continue;
            var range = ByteRange.For(other.Length, fit.Place)[0];
            if (Verified.Try(fit.Over(range, 0), other) is { Contradictions: 0 } verified)
                return Solve(fit, constant, range.Bytes.Length, verified.Constants[0]!.Value);
        }

        return null;
    }

    private static CrcParameters? Solve(CrcFit fit, ulong constant, int otherBytes, ulong otherConstant)
    {
        int width = fit.Place.Bits;
        var columns = new ulong[2 * width];
        for (int bit = 0; bit < width; bit++)
        {
            var start = Parameters(fit, 1UL << bit, 0);
            columns[bit] = CrcConstant.Of(start, [], fit.Range.Bytes.Length, []) | (CrcConstant.Of(start, [], otherBytes, []) << width);
            columns[width + bit] = (1UL << bit) | (1UL << (width + bit));
        }

        if (LinearSolver.Solve(columns, constant | (otherConstant << width)) is not { } solution)
            return null;
        ulong mask = (1UL << width) - 1;
        return Parameters(fit, solution & mask, solution >> width);
    }

    private static CrcParameters Parameters(CrcFit fit, ulong init, ulong xorOut) =>
        new($"crc{fit.Place.Bits} poly 0x{fit.Poly:X}", fit.Place.Bits, fit.Poly, init, fit.ReflectIn, fit.ReflectOut, xorOut);
}
