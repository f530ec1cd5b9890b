using Locum.Proving;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>Channels and nodes among others that keep to no protocol: the program does what the simulator does, and goes on answering.</summary>
public sealed class FloodTests(ITestOutputHelper log)
{
    [Fact]
    public void A_flood_of_frames_finds_simulator_and_program_alike_and_never_confuses_them()
    {
        var (frames, answers, dropped) = (0, 0, 0L);
        using var build = new JoinedBuild(CCompiler.Find("gcc")!, Sanitizers.Gcc, Sanitizers.GccQuick);
        Cases.Run(log, new FloodGen(), 8, project =>
        {
            var loaded = project.Load();
            var proof = build.Prove(loaded.Plan, loaded.Stimuli[0]);
            Assert.True(proof.Equal, proof.Difference);
            var simulated = Locum.Simulation.Simulator.Run([loaded.Plan], loaded.Stimuli[0]);
            frames += proof.Frames;
            answers += simulated.Frames.Count(f => f.Sender is "m.t");
            dropped += simulated.Skipped[0][loaded.Plan.Frames.Single(f => f.Frame.IsAnswer).Row];
        });
        log.WriteLine($"{frames} frames equal, {answers} of them answers; {dropped} dropped");
        Assert.True(!Cases.Whole || (answers > 300 && dropped > 0), $"{answers} answers, {dropped} dropped");
    }

    [Fact]
    public void A_flood_of_requests_and_claims_finds_simulator_and_program_alike()
    {
        var (frames, kinds) = (0, new Dictionary<uint, int>());
        using var build = new JoinedBuild(CCompiler.Find("gcc")!, Sanitizers.Gcc, Sanitizers.GccQuick);
        Cases.Run(log, new NodeFloodGen(), 5, project =>
        {
            var loaded = project.Load();
            var proof = build.Prove(loaded.Plan, loaded.Stimuli[0]);
            Assert.True(proof.Equal, proof.Difference);
            frames += proof.Frames;
            foreach (var frame in Locum.Simulation.Simulator.Run([loaded.Plan], loaded.Stimuli[0]).Frames.Where(f => f.Sender is "m.low" or "m.high"))
                kinds[frame.Id.Value >> 16] = kinds.GetValueOrDefault(frame.Id.Value >> 16) + 1;
        });
        log.WriteLine($"{frames} frames equal; of nodes {string.Join(", ", kinds.Select(k => $"{k.Key:X}: {k.Value}"))}");
        // Claims, refusals, openings and ends, packets, answers to one and to everybody.
        Assert.All([0x18EEu, 0x18E8u, 0x1CECu, 0x1CEBu, 0x18EFu, 0x18FEu], kind => Assert.True(!Cases.Whole || kinds.GetValueOrDefault(kind) > 20, $"{kind:X}: {kinds.GetValueOrDefault(kind)}"));
    }
}
