namespace Locum.Wire;

/// <summary>
/// A CRC in the parametrised model of the published CRC catalogues. All numbers are right-aligned and
/// unreflected, whatever <paramref name="ReflectIn"/> says.
/// </summary>
/// <param name="Name">As written in descriptions, for example <c>crc8-sae-j1850</c>.</param>
/// <param name="Width">Bits of the result, 1..64.</param>
/// <param name="Poly">Polynomial without its highest term.</param>
/// <param name="Init">Register before the first byte.</param>
/// <param name="ReflectIn">True when each byte enters with its lowest bit first.</param>
/// <param name="ReflectOut">True when the register is mirrored before the last XOR.</param>
/// <param name="XorOut">XORed into the result.</param>
public sealed record CrcParameters(
    string Name, int Width, ulong Poly, ulong Init, bool ReflectIn, bool ReflectOut, ulong XorOut)
{
    /// <summary>The smallest width a CRC can have here.</summary>
    public const int MinWidth = 1;

    /// <summary>The largest width a CRC can have here.</summary>
    public const int MaxWidth = 64;

    /// <summary>All bits of the result set. Only meaningful for a width in range.</summary>
    public ulong Mask => ulong.MaxValue >> (MaxWidth - Width);

    /// <summary>True when the width is in range and all numbers fit it.</summary>
    public bool IsValid =>
        Width is >= MinWidth and <= MaxWidth && ((Poly | Init | XorOut) & ~Mask) == 0;
}
