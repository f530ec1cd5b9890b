using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>
/// The constant that start value, final value and extra bytes of a CRC add up to at one length: the CRC of the extra
/// bytes around a payload of zeros.
/// </summary>
internal static class CrcConstant
{
    /// <summary>The constant of complete parameters.</summary>
    public static ulong Of(CrcParameters crc, ReadOnlySpan<byte> before, int payload, ReadOnlySpan<byte> with)
    {
        Span<byte> input = stackalloc byte[before.Length + payload + with.Length];
        input.Clear();
        before.CopyTo(input);
        with.CopyTo(input[^with.Length..]);
        return Crc.Compute(crc, input);
    }

    /// <summary>Bytes before or behind the payload that lead to a constant; null when none do.</summary>
    /// <param name="crc">Complete parameters.</param>
    /// <param name="payload">Bytes of the payload that are read.</param>
    /// <param name="before">Unknown bytes before it.</param>
    /// <param name="behind">Unknown bytes behind it.</param>
    /// <param name="constant">What they must lead to.</param>
    public static byte[]? SolveBytes(CrcParameters crc, int payload, int before, int behind, ulong constant)
    {
        int unknown = before + behind;
        Span<byte> bytes = stackalloc byte[unknown];
        bytes.Clear();
        ulong none = Of(crc, bytes[..before], payload, bytes[before..]);
        Span<ulong> columns = stackalloc ulong[unknown * 8];
        for (int i = 0; i < columns.Length; i++)
        {
            bytes.Clear();
            bytes[i / 8] = (byte)(1 << (i % 8));
            columns[i] = Of(crc, bytes[..before], payload, bytes[before..]) ^ none;
        }

        if (LinearSolver.Solve(columns, constant ^ none) is not { } solution)
            return null;
        var solved = new byte[unknown];
        for (int i = 0; i < columns.Length; i++)
            solved[i / 8] |= (byte)(((solution >> i) & 1) << (i % 8));
        return solved;
    }

    /// <summary>The values of extra bytes that are fixed for an identifier and a length.</summary>
    public static byte[] Values(IReadOnlyList<MixedByte> extras, CanId id, int length) => [.. extras.Select(e => e switch
    {
        MixedLiteral literal => literal.Value,
        MixedIdentifier part => (byte)(id.Value >> (8 * part.Number)),
        MixedLength => (byte)length,
        _ => throw new ArgumentOutOfRangeException(nameof(extras)),
    })];
}
