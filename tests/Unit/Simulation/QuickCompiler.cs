using Locum.Planning;
using Locum.Proving;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// Builds the PC program of a small scenario: with a compiler that takes a twentieth of gcc's time, with gcc in a long run.
/// That gcc and clang accept the core and make the same of it, the proofs of demo and random descriptions show.
/// </summary>
internal static class QuickCompiler
{
    private static CCompiler Compiler => CCompiler.Find(Cases.Long ? "gcc" : "tcc")!;

    public static void Build(BoardPlan plan, string folder)
    {
        var messages = Prover.Build(plan, "scenario", "0", Compiler, folder, ["-O0"]);
        Assert.True(messages is null, messages);
    }
}
