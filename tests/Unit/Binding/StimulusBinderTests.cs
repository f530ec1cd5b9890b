using Locum.Binding;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Binding;

public class StimulusBinderTests
{
    [Fact]
    public void Times_names_and_frames_are_read()
    {
        var (stimulus, codes) = Bind("for: 2 s, clock: 0xFFFFFFFF, inputs: {line: [{at: 1 s, level: active}, {at: 1.5 s, level: inactive}]}, "
            + "traffic: {body: {id: 0x800, data: 00 11, every: 10 ms, offset: 1 ms}}, blocked: {body: {from: 0 s, until: 1 s}}, stalls: {from: 3 ms, until: 4 ms}");

        Assert.Equal("", codes);
        Assert.Equal((2_000_000L, uint.MaxValue), (stimulus!.EndUs, stimulus.Clock));
        Assert.Equal([new InputChange(1_000_000, "line", true), new InputChange(1_500_000, "line", false)], stimulus.Inputs);
        var traffic = Assert.Single(stimulus.Traffic);
        Assert.Equal(("body", true, 1_000L, 10_000L, 2_000_000L), (traffic.Bus, traffic.Id.Extended, traffic.FirstUs, traffic.PeriodUs, traffic.UntilUs));
        Assert.Equal(new Blocked("body", 0, 1_000_000), Assert.Single(stimulus.Blocked));
        Assert.Equal(new Stall(3_000, 4_000), Assert.Single(stimulus.Stalls));
    }

    [Theory]
    [InlineData("for: 2 s, inputs: {lien: {at: 1 s, level: active}}", "LC1001")]
    [InlineData("for: 2 s, traffic: {bdy: {id: 1, every: 1 s}}", "LC1001")]
    [InlineData("for: 2 s, inputs: {line: [{at: 1 s, level: active}, {at: 1 s, level: inactive}]}", "LC1002")]
    [InlineData("for: 2 s, stalls: {from: 2 ms, until: 1 ms}", "LC1002")]
    [InlineData("for: 2 s, traffic: {body: {id: 0x800, id kind: 11 bit, every: 1 s}}", "LC0501")]
    [InlineData("for: 2 s, traffic: {body: {id: 1, every: 1 s, data: 00 00 00 00 00 00 00 00 00}}", "LC0503")]
    [InlineData("for: 2 s, traffic: {body: {id: 1, every: 10 us}}", "LC0209")]
    [InlineData("for: 2 s, traffic: {body: {every: 1 s}}", "LC0203")]
    [InlineData("for: 2 s, clock: 0x100000000", "LC0209")]
    [InlineData("stalls: []", "LC0203")]
    public void What_cannot_happen_is_refused(string keys, string codes)
    {
        var (stimulus, found) = Bind(keys);

        Assert.Equal(codes, found);
        Assert.All(stimulus!.Traffic, t => Assert.True(t.Id.IsValid));
    }

    private static (Stimulus? Stimulus, string Codes) Bind(string keys)
    {
        var bag = new DiagnosticBag();
        var root = SyntaxReader.Read(new SourceText("s.yaml", $"{{locum: 1, stimulus: test, {keys}}}"), bag)!;
        return (StimulusBinder.Bind(root, ["body"], ["line"], bag), Descriptions.Ids(bag.Sorted));
    }
}
