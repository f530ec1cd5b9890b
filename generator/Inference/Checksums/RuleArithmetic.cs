using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>Computes found rules over bytes.</summary>
internal static class RuleArithmetic
{
    private const uint CarryModulus = 255;

    /// <summary>The result before it is cut to the field's width.</summary>
    public static ulong Compute(FoundRule rule, ReadOnlySpan<byte> input) => rule switch
    {
        FoundSum sum => Finish(sum.Start + Sum(input, sum.Nibbles), sum.Finish),
        FoundXor xor => Finish(xor.Start ^ Xor(input, xor.Nibbles), xor.Inverted ? SumFinish.Ones : SumFinish.None),
        FoundCarrySum carry => Carry(carry, Sum(input, false)),
        FoundCrc crc => Crc.Compute(crc.Parameters, input),
        FoundJ1939 => Fold(Sum(input, false)),
        _ => throw new ArgumentOutOfRangeException(nameof(rule)),
    };

    /// <summary>All bytes, or all nibbles, added.</summary>
    public static uint Sum(ReadOnlySpan<byte> input, bool nibbles)
    {
        uint sum = 0;
        foreach (byte b in input)
            sum += nibbles ? (uint)((b >> 4) + (b & 15)) : b;
        return sum;
    }

    /// <summary>The fold of SAE J1939-71's message checksum (from memory, unconfirmed).</summary>
    public static uint Fold(uint sum) => (((sum >> 6) & 3) + (sum >> 3) + sum) & 7;

    private static uint Carry(FoundCarrySum rule, uint sum)
    {
        uint rest = (rule.Start + sum) % CarryModulus;
        uint value = rest is 0 && !rule.Zero ? CarryModulus : rest;
        return rule.Inverted ? CarryModulus - value : value;
    }

    private static uint Xor(ReadOnlySpan<byte> input, bool nibbles)
    {
        uint xor = 0;
        foreach (byte b in input)
            xor ^= nibbles ? (uint)((b >> 4) ^ (b & 15)) : b;
        return xor;
    }

    private static uint Finish(uint value, SumFinish finish) => finish switch
    {
        SumFinish.Ones => ~value,
        SumFinish.Twos => 0u - value,
        _ => value,
    };
}
