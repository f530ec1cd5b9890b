using System.Collections.Concurrent;

namespace Locum.Wire;

/// <summary>
/// Table-driven CRC for any <see cref="CrcParameters"/>. One 256-entry table per polynomial, width and
/// direction is made on first use and kept.
/// </summary>
public static class Crc
{
    private static readonly ConcurrentDictionary<(int Width, ulong Poly, bool Reflected), ulong[]> s_tables = new();

    /// <summary>The CRC of <paramref name="data"/>, right-aligned.</summary>
    /// <exception cref="ArgumentException">The parameters are not <see cref="CrcParameters.IsValid"/>.</exception>
    public static ulong Compute(CrcParameters parameters, ReadOnlySpan<byte> data) =>
        Finish(parameters, Update(parameters, Start(parameters), data));

    /// <summary>The register before the first byte, for a CRC over several pieces.</summary>
    /// <exception cref="ArgumentException">The parameters are not <see cref="CrcParameters.IsValid"/>.</exception>
    public static ulong Start(CrcParameters parameters)
    {
        if (!parameters.IsValid)
        {
            throw new ArgumentException(
                $"CRC '{parameters.Name}': the width must be 1..64 and all numbers must fit it.", nameof(parameters));
        }

        return parameters.ReflectIn ? Reflect(parameters.Init, parameters.Width) : parameters.Init << Gap(parameters.Width);
    }

    /// <summary>The register after one more piece. The register's layout is this class's own business.</summary>
    public static ulong Update(CrcParameters parameters, ulong register, ReadOnlySpan<byte> data)
    {
        var table = s_tables.GetOrAdd((parameters.Width, parameters.Poly, parameters.ReflectIn), MakeTable);
        if (parameters.ReflectIn)
        {
            foreach (byte b in data)
                register = (register >> 8) ^ table[(byte)register ^ b];
        }
        else
        {
            foreach (byte b in data)
                register = (register << 8) ^ table[(byte)(register >> 56) ^ b];
        }

        return register;
    }

    /// <summary>The result after the last piece, right-aligned.</summary>
    public static ulong Finish(CrcParameters parameters, ulong register)
    {
        ulong value = parameters.ReflectIn ? register : register >> Gap(parameters.Width);
        if (parameters.ReflectIn != parameters.ReflectOut)
            value = Reflect(value, parameters.Width);
        return value ^ parameters.XorOut;
    }

    // The unreflected register sits at the top of 64 bits, so that widths below 8 need no special case.
    private static int Gap(int width) => 64 - width;

    private static ulong[] MakeTable((int Width, ulong Poly, bool Reflected) key)
    {
        var table = new ulong[256];
        for (int i = 0; i < table.Length; i++)
            table[i] = key.Reflected ? ReflectedEntry(i, Reflect(key.Poly, key.Width)) : Entry(i, key.Poly << Gap(key.Width));
        return table;
    }

    private static ulong ReflectedEntry(int index, ulong poly)
    {
        ulong r = (ulong)index;
        for (int bit = 0; bit < 8; bit++)
            r = (r & 1) != 0 ? (r >> 1) ^ poly : r >> 1;
        return r;
    }

    private static ulong Entry(int index, ulong poly)
    {
        ulong r = (ulong)index << 56;
        for (int bit = 0; bit < 8; bit++)
            r = (r >> 63) != 0 ? (r << 1) ^ poly : r << 1;
        return r;
    }

    private static ulong Reflect(ulong value, int width)
    {
        ulong mirrored = 0;
        for (int bit = 0; bit < width; bit++)
            mirrored |= ((value >> bit) & 1) << (width - 1 - bit);
        return mirrored;
    }
}
