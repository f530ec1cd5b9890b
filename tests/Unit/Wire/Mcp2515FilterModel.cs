using Locum.Wire;

namespace Locum.Tests.Unit.Wire;

/// <summary>
/// What an MCP2515 takes in with given filter registers (data sheet DS20001801, message acceptance filters and masks;
/// figures of the standard and extended frame filter), written from the bits on the bus and without the packer.
/// </summary>
/// <param name="registers">RXF0 to RXF5, RXM0, RXM1; SIDH, SIDL, EID8, EID0 each.</param>
internal sealed class Mcp2515FilterModel(IReadOnlyList<byte[]> registers)
{
    private static readonly (int Filter, int Mask)[] s_pairs = [(0, 6), (1, 6), (2, 7), (3, 7), (4, 7), (5, 7)];

    /// <summary>True if a frame reaches one of the two buffers.</summary>
    /// <param name="data">For an 11-bit frame, the mask's last 16 bits look at the first two bytes.</param>
    public bool Accepts(CanId id, byte[] data) => s_pairs.Any(p => Fits(registers[p.Filter], registers[p.Mask], id, data));

    private static bool Fits(byte[] filter, byte[] mask, CanId id, byte[] data)
    {
        var extendedOnly = (filter[1] & 0x08) != 0;
        if (extendedOnly != id.Extended)
            return false;
        // Bit by bit: the 11 base bits from SIDH.7 on, then EID17 and EID16, then 16 bits of identifier or data.
        for (var bit = 0; bit < 11; bit++)
        {
            var sent = id.Value >> ((id.Extended ? 28 : 10) - bit) & 1;
            if (Bit(mask, bit) is 1 && Bit(filter, bit) != sent)
                return false;
        }
        for (var bit = 14; bit < 32; bit++)
        {
            if (!id.Extended && (bit < 16 || (bit - 16) / 8 >= data.Length))
                continue;
            var sent = id.Extended ? id.Value >> (31 - bit) & 1 : (uint)data[(bit - 16) / 8] >> (7 - (bit - 16) % 8) & 1;
            if (Bit(mask, bit) is 1 && Bit(filter, bit) != sent)
                return false;
        }
        return true;
    }

    private static uint Bit(byte[] register, int bit) => (uint)register[bit / 8] >> (7 - bit % 8) & 1;
}
