using Locum.Proving;
using Locum.Tests.Firmware;
using Xunit;

namespace Locum.Tests.Unit.Proving;

public sealed class ProverTests
{
    // The same board, with another period, start value, mode time and constant in the C.
    [Theory]
    [InlineData("locum_tables.c", "1000u, 0u,", "1001u, 0u,", "accepted: +1 us")]
    [InlineData("module_m.c", " = 0u; /*", " = 1u; /*", "field n: 0x0 against 0x1")]
    [InlineData("module_m.c", "2500u,", "2501u,", "program    2501 us  m enters late")]
    [InlineData("module_m.c", "{0x00u, 0xC0u}", "{0x00u, 0xD0u}", "field top: 0xC against 0xD")]
    [InlineData("core/locum_core.c", "(uint32_t)state->skipped + releases;", "(uint32_t)state->skipped + releases + 1u;", "skipped releases of m.A")]
    public void Changed_c_is_caught(string file, string right, string wrong, string expected)
    {
        using var folder = new FirmwareFolder(Sample.Plan);
        var path = Path.Combine(folder.Root, file);
        var text = File.ReadAllText(path);
        Assert.Contains(right, text, StringComparison.Ordinal);
        File.WriteAllText(path, text.Replace(right, wrong, StringComparison.Ordinal));
        Assert.Equal("", folder.Make());
        var proof = Prover.Compare(Sample.Plan, Sample.Stimulus, folder.Root);
        Assert.False(proof.Equal);
        Assert.Contains(expected, proof.Difference, StringComparison.Ordinal);
    }

    [Fact]
    public void C_that_does_not_compile_and_programs_that_fail_are_reported()
    {
        var compiler = CCompiler.Find("gcc")!;
        var unbuilt = Prover.Prove(Sample.Plan, Sample.Stimulus, "x", "0", compiler, ["-DLOCUM_CORE_H"]);
        Assert.False(unbuilt.Equal);
        Assert.StartsWith("the generated C does not compile:\n", unbuilt.Difference, StringComparison.Ordinal);
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.c"), "#include <stdlib.h>\nint main(void)\n{\n    return 9;\n}\n");
        compiler.Build(folder.Path(), ["a.c"], folder.Path("firmware"));
        Assert.StartsWith("the program ended with code 9", Prover.Compare(Sample.Plan, Sample.Stimulus, folder.Path()).Difference, StringComparison.Ordinal);
    }
}
