using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>The catalogue's polynomials without repetition.</summary>
internal static class KnownPolynomials
{
    /// <summary>Polynomials of a width, in the order of the catalogue.</summary>
    public static ulong[] OfWidth(int width) =>
        [.. CrcCatalogue.Entries.Where(e => e.Parameters.Width == width).Select(e => e.Parameters.Poly).Distinct()];
}
