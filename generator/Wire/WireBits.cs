using System.Text;

namespace Locum.Wire;

/// <summary>
/// A classic CAN data frame as the bits on the wire, for explanations and checks. Built from strings and
/// apart from <see cref="FrameLength"/>, which counts without building.
/// </summary>
public static class WireBits
{
    /// <summary>
    /// SOF to EOF, <c>0</c> for dominant: stuffed up to the end of the CRC, then CRC delimiter, ACK slot
    /// (dominant: another node acknowledges), ACK delimiter and EOF.
    /// </summary>
    /// <exception cref="ArgumentException">The identifier does not fit its format, or there are more than 8 data bytes.</exception>
    public static string Of(CanId id, ReadOnlySpan<byte> data) => Stuff(Unstuffed(id, data)) + "1" + "0" + "1" + "1111111";

    /// <summary>SOF to the last CRC bit without stuff bits.</summary>
    /// <exception cref="ArgumentException">The identifier does not fit its format, or there are more than 8 data bytes.</exception>
    public static string Unstuffed(CanId id, ReadOnlySpan<byte> data)
    {
        var header = FrameHeader.Of(id, data.Length);
        var text = new StringBuilder();
        Append(text, header.Bits, header.Count);
        foreach (byte b in data)
            Append(text, b, 8);
        Append(text, FrameLength.Crc15(id, data), 15);
        return text.ToString();
    }

    private static string Stuff(string bits)
    {
        var text = new StringBuilder();
        foreach (char bit in bits)
        {
            text.Append(bit);
            if (text.Length >= 5 && EndsWithFive(text, bit))
                text.Append(bit == '0' ? '1' : '0');
        }

        return text.ToString();
    }

    private static bool EndsWithFive(StringBuilder text, char bit)
    {
        for (int i = 1; i <= 5; i++)
        {
            if (text[^i] != bit)
                return false;
        }

        return true;
    }

    private static void Append(StringBuilder text, ulong bits, int count)
    {
        for (int i = count - 1; i >= 0; i--)
            text.Append(((bits >> i) & 1) != 0 ? '1' : '0');
    }
}
