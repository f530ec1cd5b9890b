using System.Runtime.CompilerServices;

namespace Locum.Inference.Checksums;

/// <summary>What a plain rule does with the bytes.</summary>
internal enum PlainKind
{
    /// <summary>Adds bytes.</summary>
    Sum,

    /// <summary>Adds nibbles.</summary>
    NibbleSum,

    /// <summary>XORs bytes.</summary>
    Xor,

    /// <summary>XORs nibbles.</summary>
    NibbleXor,

    /// <summary>Adds bytes and the carry, modulo 255.</summary>
    CarrySum,
}

/// <summary>A sum or XOR without its constant: c = ±S + K modulo 2^width or 255, or c = X xor K.</summary>
/// <param name="Kind">What is done with the bytes.</param>
/// <param name="Negative">The sum is subtracted from the constant.</param>
internal sealed record PlainFit(ChecksumPlace Place, ByteRange Range, PlainKind Kind, bool Negative) : Fit(Place, Range)
{
    private const uint CarryModulus = 255;

    /// <inheritdoc/>
    public override RuleFamily Family => FamilyOf(Place);

    /// <inheritdoc/>
    public override bool IsPlain => true;

    /// <inheritdoc/>
    public override string Arithmetic => IsXor ? LinearArithmetic : Kind is PlainKind.CarrySum ? "mod 255" : "mod 2^n";

    /// <summary>True for XORs, whose constant is combined by XOR as well.</summary>
    public bool IsXor => Kind is PlainKind.Xor or PlainKind.NibbleXor;

    /// <summary>The family of plain rules at a place.</summary>
    public static RuleFamily FamilyOf(ChecksumPlace place) => place.Bits switch { 4 => RuleFamily.Plain4, 8 => RuleFamily.Plain8, _ => RuleFamily.Plain16 };

    private bool Nibbles => Kind is PlainKind.NibbleSum or PlainKind.NibbleXor;

    private ulong Mask => ulong.MaxValue >> (64 - Place.Bits);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override ulong Residue(ReadOnlySpan<byte> payload)
    {
        uint value = 0;
        foreach (int index in Range.Bytes)
        {
            uint b = (uint)(payload[index] & ~Place.Mask(index));
            if (IsXor)
                value ^= Nibbles ? (b >> 4) ^ (b & 15) : b;
            else
                value += Nibbles ? (b >> 4) + (b & 15) : b;
        }

        return Residue(Kind, Negative, Place.Bits, value, Place.Read(payload));
    }

    /// <summary>The constant that leads from a sum or XOR to a checksum.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static ulong Residue(PlainKind kind, bool negative, int bits, uint value, ulong checksum)
    {
        ulong mask = ulong.MaxValue >> (64 - bits);
        if (kind is PlainKind.Xor or PlainKind.NibbleXor)
            return (value ^ checksum) & mask;
        ulong signed = negative ? checksum + value : checksum - value;
        return kind is PlainKind.CarrySum ? (ulong)((((long)signed % CarryModulus) + CarryModulus) % CarryModulus) : signed & mask;
    }

    /// <inheritdoc/>
    public override ulong Response(int index, int bit)
    {
        int value = (1 << bit) & Range.Mask(index, Place);
        if (Nibbles)
            value = (value >> 4) | (value & 15);
        return Kind switch
        {
            PlainKind.CarrySum => (ulong)(Negative ? (CarryModulus - value) % CarryModulus : value),
            _ => (ulong)(Negative ? -value : value) & Mask,
        };
    }
}
