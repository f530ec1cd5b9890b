using Locum.Proving;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Regression.ExcludedModes;

/// <summary>A formula that asks for two modes at once, or for one and against it, made C of which clang warned.</summary>
public sealed class ExcludedModesTests(ExcludedModesTests.Compilers compilers) : IClassFixture<ExcludedModesTests.Compilers>
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
        foreach (var build in compilers.Builds)
        {
            var proof = build.Prove(project.Plan, project.Stimuli[0]);
            Assert.True(proof.Equal, proof.Difference);
        }
    }

    public sealed class Compilers : IDisposable
    {
        internal IReadOnlyList<JoinedBuild> Builds { get; } = [.. new[] { "gcc", "clang" }.Select(c => new JoinedBuild(CCompiler.Find(c)!, [], []))];

        public void Dispose()
        {
            foreach (var build in Builds)
                build.Dispose();
        }
    }
}
