using Locum.Proving;
using Locum.Simulation;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Regression.ProtectedPages;

/// <summary>With pages and end-to-end protection, a page's formula read the wrong fields, and a page's checksum came after the protecting CRC.</summary>
public sealed class ProtectedPagesTests
{
    private const string Head = "locum: 1\nmodule: m\nhazard: none\nbuses: {b: {rate: 1 Mbit/s}}\n";
    private const string Frame = "id: 0, length: 8, every: 1 ms, protect: {profile: 5, data id: 0x1234}";
    private const string Own = "a: {bit: 24, bits: 8, counter: {from: 3}}";
    private const string More = "n: {bit: 32, bits: 8, value: 7}, f: {bit: 40, bits: 8, formula: a * 16 + n}, s: {bit: 48, bits: 8, checksum: {rule: sum, over: 3..5}}";

    [Fact]
    public void A_page_is_sent_like_a_frame_with_the_same_fields()
    {
        var paged = new GeneratedProject([$"{Head}frames: {{A: {{{Frame}, fields: {{{Own}}}, pages: [{{fields: {{{More}}}}}, {{}}]}}}}"], [Stimulus]).Load();
        var whole = new GeneratedProject([$"{Head}frames: {{A: {{{Frame}, fields: {{{Own}, {More}}}}}}}"], [Stimulus]).Load();
        var first = Simulator.Run([paged.Plan], paged.Stimuli[0]).Frames[0].Data;
        Assert.Equal(Simulator.Run([whole.Plan], whole.Stimuli[0]).Frames[0].Data, first);
        // 3, 7, 3 * 16 + 7 and their sum.
        Assert.Equal([0x03, 0x07, 0x37, 0x41], first[3..7]);

        using var folder = new TempFolder();
        Assert.Null(Prover.Build(paged.Plan, "m", "0", CCompiler.Find()!, folder.Path()));
        var proof = Prover.Compare(paged.Plan, paged.Stimuli[0], folder.Path());
        Assert.True(proof.Equal, proof.Difference);
    }

    private const string Stimulus = "locum: 1\nstimulus: drawn\nfor: 5500 us\n";
}
