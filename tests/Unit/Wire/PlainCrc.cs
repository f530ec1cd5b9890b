using Locum.Wire;

namespace Locum.Tests.Unit.Wire;

/// <summary>
/// The parametrised CRC bit by bit and straight from its definition: division of the message by the
/// polynomial. Slow; shares nothing with the product's tables.
/// </summary>
internal static class PlainCrc
{
    public static ulong Compute(CrcParameters crc, byte[] data)
    {
        ulong register = crc.Init;
        foreach (byte b in data)
        {
            for (int i = 0; i < 8; i++)
            {
                int place = crc.ReflectIn ? i : 7 - i;
                ulong bit = (ulong)(b >> place) & 1;
                ulong top = (register >> (crc.Width - 1)) & 1;
                register = (register << 1) & crc.Mask;
                if ((bit ^ top) != 0)
                    register ^= crc.Poly;
            }
        }

        if (crc.ReflectOut)
            register = Mirror(register, crc.Width);
        return register ^ crc.XorOut;
    }

    private static ulong Mirror(ulong value, int width)
    {
        string bits = Convert.ToString((long)value, 2).PadLeft(64, '0')[(64 - width)..];
        return Convert.ToUInt64(new string([.. bits.Reverse()]), 2);
    }
}
