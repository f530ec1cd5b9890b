using Locum.Proving;
using Locum.Simulation;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Regression.LostAsFollowed;

/// <summary>A follower whose value is negative and the same as its lost value changed for the simulator, not for the program.</summary>
public sealed class LostAsFollowedTests
{
    [Theory]
    [InlineData(8, 0x9C)]
    [InlineData(5, 0x1C)]
    public void The_same_value_is_no_change(int bits, int lost)
    {
        var least = bits is 8 ? -100 : -4;
        var project = new GeneratedProject(
            ["locum: 1\nmodule: m\nhazard: none\nbuses: {b: {rate: 1 Mbit/s}}\nreceives: {R: {id: 2, timeout: 5 ms, fields: {r: {bit: 0, bits: 8, signed: yes}}}}\n"
                + $"frames: {{A: {{id: 1, length: 1, fields: {{f: {{bit: 0, bits: {bits}, signed: yes, follow: {{from: R.r, at least: {least}}}, lost: {least}}}}}, on: {{change: f}}}}}}\n"],
            ["locum: 1\nstimulus: s\nfor: 50 ms\ntraffic: {b: [{id: 2, at: 10 ms, data: 81}, {id: 2, at: 30 ms, data: 05}]}\n"]).Load();
        // At 10 ms -127 is received, which is the least value as the lost one is; at 30 ms 5, lost again 5 ms later.
        Assert.Equal([5, lost], Simulator.Run([project.Plan], project.Stimuli[0]).Frames.Where(f => f.Sender.Length > 0).Select(f => (int)f.Data[0]));

        using var folder = new TempFolder();
        Assert.Null(Prover.Build(project.Plan, "m", "0", CCompiler.Find()!, folder.Path()));
        var proof = Prover.Compare(project.Plan, project.Stimuli[0], folder.Path());
        Assert.True(proof.Equal, proof.Difference);
    }
}
