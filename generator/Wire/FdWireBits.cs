using System.Text;

namespace Locum.Wire;

/// <summary>
/// A CAN FD data frame as the bits on the wire, for explanations and checks. Built from strings and apart from
/// <see cref="FdFrameLength"/>, which counts without building.
/// </summary>
public static class FdWireBits
{
    /// <summary>
    /// SOF to EOF, <c>0</c> for dominant; the ACK slot is dominant (another node acknowledges). The stuff count
    /// is the number of dynamic stuff bits modulo 8, Gray-coded, with even parity.
    /// </summary>
    /// <exception cref="ArgumentException">The identifier does not fit its format, or no DLC stands for the length.</exception>
    public static string Of(CanId id, ReadOnlySpan<byte> data, bool switched)
    {
        var header = FdHeader.Of(id, data.Length, switched);
        var region = new StringBuilder();
        Append(region, header.Bits, header.Count);
        foreach (byte b in data)
            Append(region, b, 8);
        var (stuffed, count) = Stuff(region.ToString());
        string stuffCount = StuffCount(count);
        // The CRC sees dynamic stuff bits and the stuff count, but no fixed stuff bits.
        string crc = FdCrc.Of(stuffed + stuffCount, FdFrameLength.CrcBits(data.Length));
        return FixedStuff(stuffed, stuffCount + crc) + "1" + "0" + "1" + "1111111";
    }

    /// <summary>The stuff count field: three Gray-coded bits and a parity bit that makes the number of ones even.</summary>
    /// <param name="stuffBits">Dynamic stuff bits, 0 or more.</param>
    public static string StuffCount(int stuffBits)
    {
        int number = stuffBits % 8;
        int gray = number ^ (number >> 1);
        int parity = (gray >> 2) ^ ((gray >> 1) & 1) ^ (gray & 1);
        return Convert.ToString((gray << 1) | parity, 2).PadLeft(FdFrameLength.StuffCountBits, '0');
    }

    private static (string Stuffed, int Count) Stuff(string bits)
    {
        var text = new StringBuilder();
        int count = 0;
        for (int i = 0; i < bits.Length; i++)
        {
            text.Append(bits[i]);
            if (i == bits.Length - 1 || text.Length < 5 || text.ToString(text.Length - 5, 5) != new string(bits[i], 5))
                continue;
            text.Append(Inverse(bits[i]));
            count++;
        }

        return (text.ToString(), count);
    }

    private static string FixedStuff(string before, string field)
    {
        var text = new StringBuilder(before);
        for (int i = 0; i < field.Length; i++)
        {
            if (i % 4 == 0)
                text.Append(Inverse(text[^1]));
            text.Append(field[i]);
        }

        return text.ToString();
    }

    private static char Inverse(char bit) => bit == '0' ? '1' : '0';

    private static void Append(StringBuilder text, ulong bits, int count)
    {
        for (int i = count - 1; i >= 0; i--)
            text.Append(((bits >> i) & 1) != 0 ? '1' : '0');
    }
}
