namespace Locum.Inference.Checksums;

/// <summary>Where a checksum or a counter stands, in the numbering of descriptions.</summary>
/// <param name="Bit">The least significant bit: byte × 8 + bit, bit 0 being the lowest of its byte.</param>
/// <param name="Bits">Width, 1 to 64.</param>
/// <param name="BigEndian">True when the field grows into the byte before, as <c>order: big</c> says.</param>
public readonly record struct ChecksumPlace(int Bit, int Bits, bool BigEndian = false)
{
    private const int ByteBits = 8;

    /// <summary>The lowest byte that the place touches.</summary>
    public int FirstByte => BigEndian ? (Bit / ByteBits) - ByteCount + 1 : Bit / ByteBits;

    /// <summary>Bytes touched; places start at a byte or at its upper nibble.</summary>
    public int ByteCount => ((Bit % ByteBits) + Bits + ByteBits - 1) / ByteBits;

    /// <summary>The highest byte that the place touches.</summary>
    public int LastByte => FirstByte + ByteCount - 1;

    /// <summary>True when both touch a common bit.</summary>
    public bool Overlaps(ChecksumPlace other)
    {
        for (int b = Math.Max(FirstByte, other.FirstByte); b <= Math.Min(LastByte, other.LastByte); b++)
        {
            if ((Mask(b) & other.Mask(b)) != 0)
                return true;
        }

        return false;
    }

    /// <summary>The bits that the place takes of a byte of the payload.</summary>
    public byte Mask(int index)
    {
        if (index < FirstByte || index > LastByte)
            return 0;
        return Bits < ByteBits ? (byte)(((1 << Bits) - 1) << (Bit % ByteBits)) : byte.MaxValue;
    }

    /// <summary>The byte of the payload, and the bit in it, that hold a bit of the value.</summary>
    internal (int Index, int Bit) Locate(int bit)
    {
        int at = (Bit % ByteBits) + bit;
        return ((Bit / ByteBits) + (BigEndian ? -(at / ByteBits) : at / ByteBits), at % ByteBits);
    }

    /// <summary>The value in a payload that reaches to <see cref="LastByte"/>.</summary>
    public ulong Read(ReadOnlySpan<byte> payload)
    {
        if (Bits < ByteBits)
            return (ulong)(payload[Bit / ByteBits] >> (Bit % ByteBits)) & ((1UL << Bits) - 1);
        ulong value = 0;
        for (int i = 0; i < ByteCount; i++)
            value |= (ulong)payload[BigEndian ? LastByte - i : FirstByte + i] << (ByteBits * i);
        return value;
    }
}
