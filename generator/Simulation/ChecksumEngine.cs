using Locum.Model;
using Locum.Wire;

namespace Locum.Simulation;

/// <summary>Computes checksums by their definition.</summary>
public static class ChecksumEngine
{
    /// <summary>The checksum over a payload in which the bits of this and of later checksums are still 0.</summary>
    /// <param name="counterValue">The value of a counter by its index in the module.</param>
    /// <returns>The value before it is cut to the field's width.</returns>
    public static ulong Compute(Checksum checksum, CanId id, ReadOnlySpan<byte> payload, Func<int, uint> counterValue)
    {
        Span<byte> input = stackalloc byte[checksum.Before.Count + checksum.Over.Count + checksum.With.Count];
        var n = 0;
        foreach (var extra in checksum.Before)
            input[n++] = Extra(extra, id, payload.Length, counterValue);
        foreach (var b in checksum.Over)
            input[n++] = payload[b];
        foreach (var extra in checksum.With)
            input[n++] = Extra(extra, id, payload.Length, counterValue);
        return checksum.Rule switch
        {
            CrcRule crc => Crc.Compute(crc.Parameters, input),
            SumRule sum => Finish(Sum(input, sum), sum.Complement),
            J1939Rule => Fold(Sum(input, new SumRule("", false, 0, Complement.None))),
            XorRule xor => Finish(Xor(input, xor), xor.Complement),
            _ => throw new ArgumentOutOfRangeException(nameof(checksum)),
        };
    }

    private static byte Extra(ExtraByte extra, CanId id, int length, Func<int, uint> counterValue) => extra switch
    {
        LiteralByte literal => literal.Value,
        IdentifierByte part => (byte)(id.Value >> (8 * part.Number)),
        LengthByte => (byte)length,
        SecretByte secret => secret.Table[counterValue(secret.Counter) - secret.Lowest],
        _ => throw new ArgumentOutOfRangeException(nameof(extra)),
    };

    private static uint Sum(ReadOnlySpan<byte> input, SumRule rule)
    {
        var sum = rule.Start;
        foreach (var b in input)
            sum += rule.Nibbles ? (uint)((b >> 4) + (b & 15)) : b;
        return sum;
    }

    private static uint Xor(ReadOnlySpan<byte> input, XorRule rule)
    {
        var xor = rule.Start;
        foreach (var b in input)
            xor ^= rule.Nibbles ? (uint)((b >> 4) ^ (b & 15)) : b;
        return xor;
    }

    // From memory, unconfirmed.
    private static uint Fold(uint sum) => ((sum >> 6 & 3) + (sum >> 3) + sum) & 7;

    private static uint Finish(uint value, Complement complement) => complement switch
    {
        Complement.Ones => ~value,
        Complement.Twos => 0u - value,
        _ => value,
    };
}
