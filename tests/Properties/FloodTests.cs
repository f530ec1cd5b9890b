using Locum.Proving;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>Channels under testers that keep to no protocol: the program does what the simulator does, and goes on answering.</summary>
public sealed class FloodTests(ITestOutputHelper log)
{
    [Fact]
    public void A_flood_of_frames_finds_simulator_and_program_alike_and_never_confuses_them()
    {
        var (frames, answers, dropped) = (0, 0, 0L);
        Cases.Run(log, new FloodGen(), 8, project =>
        {
            var loaded = project.Load();
            using var folder = new TempFolder();
            var messages = Prover.Build(loaded.Plan, "flood", "0", CCompiler.Find("gcc")!, folder.Path(), ["-fsanitize=address,undefined", "-fno-sanitize-recover=all"]);
            Assert.True(messages is null, messages);
            var proof = Prover.Compare(loaded.Plan, loaded.Stimuli[0], folder.Path());
            Assert.True(proof.Equal, proof.Difference);
            var simulated = Locum.Simulation.Simulator.Run([loaded.Plan], loaded.Stimuli[0]);
            frames += proof.Frames;
            answers += simulated.Frames.Count(f => f.Sender is "m.t");
            dropped += simulated.Skipped[0][loaded.Plan.Frames.Single(f => f.Frame.IsAnswer).Row];
        });
        log.WriteLine($"{frames} frames equal, {answers} of them answers; {dropped} dropped");
        Assert.True(!Cases.Whole || (answers > 300 && dropped > 0), $"{answers} answers, {dropped} dropped");
    }
}
