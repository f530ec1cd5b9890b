namespace Locum.Inference;

/// <summary>Where a group of payload bits lies, counted as descriptions count.</summary>
/// <param name="Bit">Place of the least significant bit: byte × 8 + bit.</param>
/// <param name="Bits">Width, 1..64.</param>
/// <param name="BigEndian">True: goes on in the byte before; false: in the byte behind.</param>
public readonly record struct FieldPlace(int Bit, int Bits, bool BigEndian = false)
{
    /// <summary>The place of the next more significant bit; may lie outside every payload.</summary>
    public static int Next(int position, bool bigEndian) => bigEndian && position % 8 is 7 ? position - 15 : position + 1;

    /// <summary>All bits from the least significant on, as byte × 8 + bit.</summary>
    public IEnumerable<int> Positions()
    {
        int position = Bit;
        for (int i = 0; i < Bits; i++)
        {
            yield return position;
            position = Next(position, BigEndian);
        }
    }

    /// <summary>True if a payload of so many bytes holds every bit.</summary>
    public bool IsInside(int bytes)
    {
        int more = (Math.Max(0, Bits - (8 - (Bit % 8))) + 7) / 8;
        int last = (Bit / 8) + (BigEndian ? -more : more);
        return Bit >= 0 && Bit / 8 < bytes && last >= 0 && last < bytes;
    }

    /// <summary>The bits as a number without a sign.</summary>
    public ulong Read(ReadOnlySpan<byte> data)
    {
        int at = Bit / 8;
        int got = 8 - (Bit % 8);
        ulong value = (ulong)data[at] >> (Bit % 8);
        for (; got < Bits; got += 8)
            value |= (ulong)data[at += BigEndian ? -1 : 1] << got;
        return Bits is 64 ? value : value & ((1UL << Bits) - 1);
    }

    /// <summary>Writes the low bits of a number.</summary>
    public void Write(Span<byte> data, ulong value)
    {
        foreach (int position in Positions())
        {
            data[position / 8] = (byte)((data[position / 8] & ~(1 << (position % 8))) | ((int)(value & 1) << (position % 8)));
            value >>= 1;
        }
    }

    /// <summary>True if both have a bit in common.</summary>
    public bool Meets(FieldPlace other) => Positions().Intersect(other.Positions()).Any();

    /// <summary><c>bits 16..27</c>, with the order where the field crosses bytes from behind.</summary>
    public override string ToString() => Bits is 1 ? $"bit {Bit}"
        : BigEndian && Bits > 8 - (Bit % 8) ? $"{Bits} bits from {Bit}, big"
        : $"bits {Bit}..{Bit + Bits - 1}";
}
