using Locum.Proving;
using Locum.Simulation;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Regression.LostTogether;

/// <summary>Two nodes of a board that both lost their addresses had one frame each with the identifier of those without one in the simulator's mailboxes.</summary>
public sealed class LostTogetherTests
{
    [Fact]
    public void One_frame_of_an_identifier_waits_at_a_time()
    {
        var project = new GeneratedProject(
            ["locum: 1\nmodule: m\nhazard: none\nbuses: {b: {rate: 250 kbit/s}}\nframes: {A: {id: 1, length: 0, every: 100 ms}}\nj1939:\n  one: {address: 10, name: 00 00 00 00 00 00 00 F1}\n  two: {address: 11, name: 00 00 00 00 00 00 00 F2}\n"],
            // Lower NAMEs claim both addresses; then nothing starts until both nodes have wanted to say that they lost.
            ["locum: 1\nstimulus: s\nfor: 1 s\ntraffic: {b: [{id: 0x18EEFF0A, at: 100 ms, data: 00 00 00 00 00 00 00 01}, {id: 0x18EEFF0B, at: 100010 us, data: 00 00 00 00 00 00 00 01}]}\nblocked: {b: {from: 101300 us, until: 500 ms}}\n"]).Load();
        var lost = Simulator.Run([project.Plan], project.Stimuli[0]).Frames.Where(f => f.Sender.Length > 0 && f.Id.Value is 0x18EEFFFE).ToList();
        Assert.Equal(2, lost.Count);
        Assert.True(lost[1].AcceptedUs >= lost[0].EndUs, $"accepted at {lost[1].AcceptedUs}, the other left at {lost[0].EndUs}");

        using var folder = new TempFolder();
        Assert.Null(Prover.Build(project.Plan, "m", "0", CCompiler.Find()!, folder.Path()));
        var proof = Prover.Compare(project.Plan, project.Stimuli[0], folder.Path());
        Assert.True(proof.Equal, proof.Difference);
    }
}
