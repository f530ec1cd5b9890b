namespace Locum.Inference.Checksums;

/// <summary>
/// The period of a polynomial in bytes: the least j with x^(8j) = 1. Bytes that far apart enter the CRC alike, so within
/// a payload longer than that, copies among the bytes satisfy it. No designer chooses such a polynomial.
/// </summary>
internal static class ShortPeriod
{
    /// <summary>The period when it is not longer than the payload and the polynomial is none of the catalogue's; otherwise null.</summary>
    public static int? Of(CrcFit fit, int length)
    {
        int width = fit.Place.Bits;
        if (width > 16 || KnownPolynomials.OfWidth(width).Contains(fit.Poly))
            return null;
        uint top = 1u << width;
        uint value = 1;
        for (int bytes = 1; bytes <= length; bytes++)
        {
            for (int bit = 0; bit < 8; bit++)
            {
                value <<= 1;
                if ((value & top) != 0)
                    value ^= top | (uint)fit.Poly;
            }

            if (value is 1)
                return bytes;
        }

        return null;
    }
}
