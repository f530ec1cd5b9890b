namespace Locum.Wire;

/// <summary>
/// Lengths of classic CAN data frames in bits, counted from SOF to the last bit of EOF. The three bits of
/// intermission that follow are never included; add <see cref="IntermissionBits"/> where they count.
/// </summary>
public static class FrameLength
{
    /// <summary>Recessive bits between a frame and the earliest SOF of the next one.</summary>
    public const int IntermissionBits = 3;

    /// <summary>CRC delimiter, ACK slot, ACK delimiter and seven bits of EOF: never stuffed.</summary>
    public const int TailBits = 10;

    private const int CrcBits = 15;
    private const uint CrcPoly = 0x4599;
    private const uint CrcMask = 0x7FFF;

    /// <summary>Exact length of one frame with its stuff bits, SOF to EOF.</summary>
    /// <exception cref="ArgumentException">The identifier does not fit its format, or there are more than 8 data bytes.</exception>
    public static int Bits(CanId id, ReadOnlySpan<byte> data) =>
        UnstuffedBits(id.Extended, data.Length) + StuffBits(id, data);

    /// <summary>Number of stuff bits between SOF and the end of the CRC.</summary>
    /// <exception cref="ArgumentException">The identifier does not fit its format, or there are more than 8 data bytes.</exception>
    public static int StuffBits(CanId id, ReadOnlySpan<byte> data)
    {
        var region = new StuffedRegion();
        region.Add(Crc15(id, data, ref region), CrcBits, 0);
        return region.StuffBits;
    }

    /// <summary>The frame's CRC-15 (polynomial 0x4599, start 0) over SOF to the end of the data.</summary>
    /// <exception cref="ArgumentException">The identifier does not fit its format, or there are more than 8 data bytes.</exception>
    public static uint Crc15(CanId id, ReadOnlySpan<byte> data)
    {
        var region = new StuffedRegion();
        return Crc15(id, data, ref region);
    }

    /// <summary>Length without any stuff bit: 44 + 8n, or 64 + 8n for 29-bit identifiers.</summary>
    /// <param name="extended">True for 29-bit identifiers.</param>
    /// <param name="length">Data bytes, 0..8.</param>
    public static int MinimumBits(bool extended, int length) => UnstuffedBits(extended, length);

    /// <summary>
    /// Worst case: one stuff bit per four bits after the first in the stuffed region (Davis, Burns, Bril,
    /// Lukkien 2007, from memory). That paper's 55 + 10n and 80 + 10n include the intermission; these do not.
    /// </summary>
    /// <param name="extended">True for 29-bit identifiers.</param>
    /// <param name="length">Data bytes, 0..8.</param>
    public static int MaximumBits(bool extended, int length)
    {
        int unstuffed = UnstuffedBits(extended, length);
        return unstuffed + ((unstuffed - TailBits - 1) / 4);
    }

    /// <summary>Duration of <paramref name="bits"/> in microseconds, rounded up.</summary>
    /// <param name="bits">0 or more.</param>
    /// <param name="rate">Bit/s, above 0.</param>
    public static long TimeUs(long bits, long rate) => ((bits * 1_000_000) + rate - 1) / rate;

    private static int UnstuffedBits(bool extended, int length) =>
        (extended ? 39 : 19) + (8 * length) + CrcBits + TailBits;

    private static uint Crc15(CanId id, ReadOnlySpan<byte> data, ref StuffedRegion region)
    {
        var header = FrameHeader.Of(id, data.Length);
        uint crc = region.Add(header.Bits, header.Count, 0);
        foreach (byte b in data)
            crc = region.Add(b, 8, crc);
        return crc;
    }

    /// <summary>Follows the bits of the stuffed region: counts stuff bits and carries the CRC along.</summary>
    private struct StuffedRegion
    {
        private uint _last;
        private int _run;

        public int StuffBits { get; private set; }

        public uint Add(ulong bits, int count, uint crc)
        {
            for (int i = count - 1; i >= 0; i--)
            {
                uint bit = (uint)(bits >> i) & 1;
                uint feedback = bit ^ (crc >> (CrcBits - 1));
                crc = ((crc << 1) ^ (feedback * CrcPoly)) & CrcMask;

                _run = bit == _last ? _run + 1 : 1;
                _last = bit;
                if (_run == 5)
                {
                    // The stuff bit is the complement and begins a run of its own.
                    StuffBits++;
                    _last = bit ^ 1;
                    _run = 1;
                }
            }

            return crc;
        }
    }
}
