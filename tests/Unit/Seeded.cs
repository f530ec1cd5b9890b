using CsCheck;

namespace Locum.Tests.Unit;

/// <summary>Runs a property over generated values from a written seed, so that every run sees the same values.</summary>
internal static class Seeded
{
    public static void Check<T>(this Gen<T> gen, ulong seed, int count, Action<T> property)
    {
        var random = new PCG(1, seed);
        for (var i = 0; i < count; i++)
            property(gen.Generate(random, null, out _));
    }
}
