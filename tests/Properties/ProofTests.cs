using Locum.Model;
using Locum.Planning;
using Locum.Proving;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>Generated C against the simulator, frame by frame and microsecond by microsecond, built as 'locum prove' builds it.</summary>
public sealed class ProofTests(ITestOutputHelper log)
{
    private const int Usual = 2;
    private const int Many = 200;

    [Theory]
    [InlineData("gcc")]
    [InlineData("clang")]
    public void Generated_c_compiles_without_a_warning_and_equals_the_simulator(string command)
    {
        var compiler = CCompiler.Find(command);
        Assert.NotNull(compiler);
        var frames = 0;
        Cases.Run(log, new DescriptionGen(), Usual, project =>
        {
            var loaded = project.Load();
            using var folder = new TempFolder();
            var messages = Prover.Build(loaded.Plan, "drawn", "0", compiler, folder.Path());
            Assert.True(messages is null, messages);
            foreach (var stimulus in loaded.Stimuli)
            {
                var proof = Prover.Compare(loaded.Plan, stimulus, folder.Path());
                Assert.True(proof.Equal, proof.Difference);
                frames += proof.Frames;
                // Nothing but the number on the clock may depend on where its 32 bits wrap.
                Assert.Equal(Output(loaded.Plan, stimulus with { Clock = 0 }, folder), Output(loaded.Plan, stimulus with { Clock = Wrapping(stimulus.EndUs) }, folder));
            }
        }, longCount: Many);
        log.WriteLine($"{frames} frames equal");
    }

    private static uint Wrapping(long end) => (uint)(0x1_0000_0000 - (Math.Min(end, uint.MaxValue) / 2));

    private static string Output(BoardPlan plan, Stimulus stimulus, TempFolder folder)
    {
        var (code, output, error) = CCompiler.Run(folder.Path("firmware"), [], folder.Path(), ProofScript.Of(plan, stimulus));
        Assert.True(code is 0, error);
        return output;
    }
}
