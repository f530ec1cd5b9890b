namespace Locum.Inference.Checksums;

/// <summary>The bytewise steps of a CRC's register, which stands at the top of 64 bits.</summary>
internal sealed class CrcTable
{
    private const int ByteBits = 8;
    private readonly ulong[] _steps = new ulong[256];

    /// <summary>Prepares a polynomial.</summary>
    /// <param name="width">Bits of the register.</param>
    /// <param name="poly">Polynomial without its highest term, unreflected.</param>
    public CrcTable(int width, ulong poly)
    {
        Poly = poly;
        ulong top = poly << (64 - width);
        for (int i = 0; i < _steps.Length; i++)
        {
            ulong r = (ulong)i << 56;
            for (int bit = 0; bit < ByteBits; bit++)
                r = (r >> 63) != 0 ? (r << 1) ^ top : r << 1;
            _steps[i] = r;
        }
    }

    /// <summary>Polynomial without its highest term, unreflected.</summary>
    public ulong Poly { get; }

    /// <summary>The register behind one more byte, which enters with its highest bit first.</summary>
    public ulong Step(ulong register, byte value) => (register << ByteBits) ^ _steps[(byte)(register >> 56) ^ value];
}
