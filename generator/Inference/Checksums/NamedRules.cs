using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>Counts the rules that have a name, for <see cref="RuleFamily.Named"/>.</summary>
internal static class NamedRules
{
    // All bytes, those before the place, those behind it.
    private const int Ranges = 3;

    private const int PlainRules = 10;

    /// <summary>Named rules of a width at one place, with every customary combination of extra bytes.</summary>
    public static double Count(int bits) =>
        Ranges * ExtraBytes.Combinations * (PlainRules + CrcCatalogue.Entries.Count(e => e.Parameters.Width == bits));
}
