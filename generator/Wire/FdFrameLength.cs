namespace Locum.Wire;

/// <summary>
/// Lengths of CAN FD data frames, SOF to the last bit of EOF, without intermission. SOF to the end of the data
/// is stuffed as in classic CAN, but no stuff bit follows the last data bit: the CRC field begins with a fixed
/// one. The CRC field (stuff count, CRC, fixed stuff bits) has the same length whatever it says, so no CRC is
/// needed here. When the frame switches, ESI to CRC delimiter count as sent at the data rate; the shift of the
/// two switches into their bits' sample points is left out. (ISO 11898-1:2015, from memory; the rule about the
/// last data bit as in open-source descriptions of CAN FD controllers.)
/// </summary>
public static class FdFrameLength
{
    /// <summary>The most data bytes that the shorter CRC protects.</summary>
    public const int ShortCrcData = 16;

    /// <summary>Three Gray-coded bits and their parity.</summary>
    public const int StuffCountBits = 4;

    /// <summary>ACK slot, ACK delimiter, EOF: always at the bus' bit rate.</summary>
    public const int TailBits = 9;

    private const int CrcDelimiterBits = 1;

    /// <summary>Exact length of one frame.</summary>
    /// <exception cref="ArgumentException">The identifier does not fit its format, or no DLC stands for the length.</exception>
    public static WireLength Of(CanId id, ReadOnlySpan<byte> data, bool switched)
    {
        var header = FdHeader.Of(id, data.Length, switched);
        var region = new StuffedRegion();
        region.Add(header.Bits >> FdHeader.BehindSwitch, header.Count - FdHeader.BehindSwitch);
        int slow = region.Bits;
        region.Add(header.Bits, FdHeader.BehindSwitch);
        foreach (byte b in data)
            region.Add(b, 8);
        return Split(slow, region.Bits - slow, data.Length, switched);
    }

    /// <summary>Length without any dynamic stuff bit.</summary>
    /// <param name="extended">True for 29-bit identifiers.</param>
    /// <param name="length">Data bytes.</param>
    /// <param name="switched">True when the frame switches rates.</param>
    public static WireLength Minimum(bool extended, int length, bool switched) =>
        Split(FdHeader.CountOf(extended) - FdHeader.BehindSwitch, FdHeader.BehindSwitch + (8 * length), length, switched);

    /// <summary>
    /// A bound for the longest frame: a stuff bit for each four bits after the first, counted for both parts of
    /// the frame as if the run went on across the switch, and none behind the last bit.
    /// </summary>
    /// <param name="extended">True for 29-bit identifiers.</param>
    /// <param name="length">Data bytes.</param>
    /// <param name="switched">True when the frame switches rates.</param>
    public static WireLength Maximum(bool extended, int length, bool switched)
    {
        int slow = FdHeader.CountOf(extended) - FdHeader.BehindSwitch;
        int all = slow + FdHeader.BehindSwitch + (8 * length);
        int slowStuff = (slow - 1) / 4;
        int allStuff = (all - 2) / 4;
        return Split(slow + slowStuff, all + allStuff - slow - slowStuff, length, switched);
    }

    /// <summary>Bits of the CRC: 17 up to 16 data bytes, 21 above.</summary>
    public static int CrcBits(int length) => length <= ShortCrcData ? 17 : 21;

    private static WireLength Split(int slow, int behindSwitch, int length, bool switched)
    {
        int field = StuffCountBits + CrcBits(length);
        int fast = behindSwitch + field + FixedStuffBits(field) + CrcDelimiterBits;
        return switched ? new WireLength(slow + TailBits, fast) : new WireLength(slow + fast + TailBits, 0);
    }

    // One before the field, one after every four of its bits.
    private static int FixedStuffBits(int field) => 1 + (field / 4);

    /// <summary>Counts bits and dynamic stuff bits. A stuff bit counts when the next bit comes, so none ends the region.</summary>
    private struct StuffedRegion
    {
        private uint _last;
        private int _run;

        public int Bits { get; private set; }

        public void Add(ulong bits, int count)
        {
            for (int i = count - 1; i >= 0; i--)
            {
                if (_run is 5)
                {
                    Bits++;
                    _last ^= 1;
                    _run = 1;
                }

                uint bit = (uint)(bits >> i) & 1;
                _run = bit == _last ? _run + 1 : 1;
                _last = bit;
                Bits++;
            }
        }
    }
}
