namespace Locum.Wire;

/// <summary>
/// The CRCs of CAN FD (ISO 11898-1:2015): polynomials 0x1685B (17 bits) and 0x102899 (21 bits). On the wire
/// the register starts with only its highest bit set, from memory; published check values start at 0.
/// </summary>
public static class FdCrc
{
    /// <summary>The CRC of a row of bits as on the wire.</summary>
    /// <param name="bits">Characters 0 and 1.</param>
    /// <param name="width">17 or 21.</param>
    /// <returns>As many characters 0 and 1 as the CRC is wide, highest bit first.</returns>
    public static string Of(string bits, int width) =>
        Convert.ToString(Compute(bits, width, 1u << (width - 1)), 2).PadLeft(width, '0');

    /// <summary>The register after a row of bits.</summary>
    /// <param name="bits">Characters 0 and 1.</param>
    /// <param name="width">17 or 21.</param>
    /// <param name="start">The register before the first bit.</param>
    public static uint Compute(string bits, int width, uint start)
    {
        uint poly = width switch
        {
            17 => 0x1685B,
            21 => 0x102899,
            _ => throw new ArgumentOutOfRangeException(nameof(width)),
        };
        uint register = start;
        foreach (char bit in bits)
        {
            uint feedback = (register >> (width - 1)) ^ (uint)(bit - '0');
            register = (register << 1) & ((1u << width) - 1);
            if (feedback != 0)
                register ^= poly;
        }

        return register;
    }
}
