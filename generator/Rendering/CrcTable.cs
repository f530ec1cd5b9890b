using Locum.Wire;

namespace Locum.Rendering;

/// <summary>A CRC as the C core computes it: 16 table entries, one per nibble value.</summary>
/// <remarks>Registers of odd width are left-aligned in the next of 8, 16, 32 or 64 bits, or right-aligned when reflected.</remarks>
public sealed class CrcTable
{
    private readonly CrcParameters _crc;

    public CrcTable(CrcParameters crc)
    {
        _crc = crc;
        Container = crc.Width <= 8 ? 8 : crc.Width <= 16 ? 16 : crc.Width <= 32 ? 32 : 64;
        Entries = [.. Enumerable.Range(0, 16).Select(i => Hex(Entry((ulong)i)))];
    }

    /// <summary>8, 16, 32 or 64.</summary>
    public int Container { get; }

    /// <summary>Rules that differ only in start and final value share a table.</summary>
    public string C => $"crc{_crc.Width}_{_crc.Poly:x}{(_crc.ReflectIn ? "_reflected" : "")}_table";

    public string Type => $"uint{Container}_t";

    public string Function => $"locum_crc{Container}{(_crc.ReflectIn ? "_reflected" : "")}";

    public IReadOnlyList<string> Entries { get; }

    public string Start => Hex(_crc.ReflectIn ? Reflect(_crc.Init) : _crc.Init << Shift);

    public string XorOut => Hex(_crc.XorOut);

    public bool HasXorOut => _crc.XorOut != 0;

    /// <summary>How far the result must be shifted right.</summary>
    public int Shift => _crc.ReflectIn ? 0 : Container - _crc.Width;

    /// <summary>The register leaves in the other bit order than it works in.</summary>
    public bool Turned => _crc.ReflectIn != _crc.ReflectOut;

    public int Width => _crc.Width;

    private ulong Entry(ulong nibble)
    {
        var poly = _crc.Poly;
        if (_crc.ReflectIn)
        {
            var register = nibble;
            for (var i = 0; i < 4; i++)
                register = (register & 1) != 0 ? (register >> 1) ^ Reflect(poly) : register >> 1;
            return register;
        }
        var top = 1UL << (Container - 1);
        var left = nibble << (Container - 4);
        for (var i = 0; i < 4; i++)
            left = (left & top) != 0 ? (left << 1) ^ (poly << Shift) : left << 1;
        return left & (ulong.MaxValue >> (64 - Container));
    }

    private ulong Reflect(ulong value)
    {
        var reflected = 0UL;
        for (var i = 0; i < _crc.Width; i++)
            reflected |= (value >> i & 1) << (_crc.Width - 1 - i);
        return reflected;
    }

    private string Hex(ulong value)
    {
        var digits = value.ToString($"X{Container / 4}");
        return Container is 64 ? $"UINT64_C(0x{digits})" : $"0x{digits}u";
    }
}
