using Locum.Proving;
using Locum.Rendering;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Regression.ExcludedModes;

/// <summary>A formula that asks for two modes at once, or for one and against it, made C of which clang warned.</summary>
public sealed class ExcludedModesTests
{
    [Theory]
    [InlineData("mode == a && mode != a && byte(0)")]
    [InlineData("mode == a && mode == b")]
    [InlineData("mode != a || mode != b")]
    [InlineData("byte(0) && mode == a && mode == b")]
    [InlineData("mode == a && (mode != a || mode == b)")]
    [InlineData("(mode == a) == (mode != a) || mode == a || mode != a")]
    public void Compilers_find_nothing_to_object_to(string formula)
    {
        var project = new GeneratedProject(
            [$"locum: 1\nmodule: m\nhazard: none\nbuses: {{b: {{rate: 1 Mbit/s}}}}\nmodes: {{a: {{for: 2 ms, then: b}}, b: {{}}}}\nframes: {{A: {{id: 1, length: 2, every: 1 ms, fields: {{f: {{bit: 8, bits: 1, formula: \"{formula}\"}}}}}}}}\n"],
            ["locum: 1\nstimulus: s\nfor: 5 ms\n"]).Load();
        var files = FirmwareRenderer.Render(project.Plan, "m", "0");
        foreach (var compiler in new[] { "gcc", "clang" })
        {
            using var folder = new TempFolder();
            foreach (var file in files)
                file.Save(folder.Path());
            var (ok, messages) = CCompiler.Find(compiler)!.Build(folder.Path(), [.. files.Select(f => f.Path).Where(p => p.EndsWith(".c", StringComparison.Ordinal))], "firmware", []);
            Assert.True(ok, messages);
            var proof = Prover.Compare(project.Plan, project.Stimuli[0], folder.Path());
            Assert.True(proof.Equal, proof.Difference);
        }
    }
}
