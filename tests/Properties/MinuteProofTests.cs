using Locum.Proving;
using Locum.Rendering;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>Many random descriptions over a minute or more each, with compilers and sanitizers in turn; 10,000 of them in a long run.</summary>
public sealed class MinuteProofTests(ITestOutputHelper log)
{
    private const int Usual = 24;
    private const int Many = 10_000;
    private const long LeastUs = 60_000_000;
    private const int AtOnce = 2;

    // Clang's traps need no run-time library; its address sanitizer would.
    private static readonly string[] s_clang = ["-fsanitize=undefined", "-fsanitize-trap=undefined"];

    private static readonly string[] s_clangQuick = ["-O0"];

    [Fact]
    public void A_minute_of_any_description_proves_equal_and_its_c_keeps_to_its_memory_and_to_defined_behaviour()
    {
        using var gcc = new JoinedBuild(CCompiler.Find("gcc")!, Sanitizers.Gcc, Sanitizers.GccQuick);
        using var clang = new JoinedBuild(CCompiler.Find("clang")!, s_clang, s_clangQuick);
        using var tcc = new JoinedBuild(CCompiler.Find("tcc")!, [], []);
        var tally = new Tally();
        Cases.Run(log, new DescriptionGen(1, LeastUs), Usual, project =>
        {
            var loaded = project.Load();
            var files = FirmwareRenderer.Render(loaded.Plan, "drawn", "0");
            var stimulus = loaded.Stimuli.Single();
            Assert.True(stimulus.EndUs >= LeastUs);
            var expected = Simulator.Run([loaded.Plan], stimulus);
            // The same compiler for the same case; all when it is run alone. Half of a usual run and most of a long one are as quick as tcc.
            var draw = files.Sum(f => f.Text.Length) % (Cases.Long ? 16 : 4);
            var drawn = draw switch { 0 => gcc, 1 => clang, _ => tcc };
            foreach (var build in new[] { gcc, clang, tcc }.Where(b => !Cases.Whole || b == drawn))
            {
                using var folder = new TempFolder();
                var messages = build.Build(files, folder.Path());
                Assert.True(messages is null, messages);
                var (code, output, error) = CCompiler.Run(folder.Path("firmware"), [], folder.Path(), ProofScript.Of(loaded.Plan, stimulus));
                Assert.True(code is 0, $"the program ended with code {code}:\n{error}");
                var difference = Comparison.FirstDifference(loaded.Plan, expected, ProgramOutput.Parse(output, loaded.Plan));
                Assert.True(difference is null, difference);
            }
            tally.Add(loaded.Plan, stimulus, expected, gcc: drawn == gcc, clang: drawn == clang);
        }, longCount: Many, atOnce: AtOnce);
        log.WriteLine($"{tally}");
        Assert.True(!Cases.Whole || tally.IsRich, $"{tally}");
    }
}
