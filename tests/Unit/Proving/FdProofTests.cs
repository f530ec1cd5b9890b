using Locum.Binding;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Proving;
using Locum.Syntax;
using Locum.Tests.Firmware;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Proving;

/// <summary>CAN FD in the generated C: equal to the simulator as it is, and caught when it is not.</summary>
public sealed class FdProofTests
{
    private const string Frames = """
        receives:
          Other: {id: 0x20, timeout: 30 ms, fields: {last: {bit: 504, bits: 8}}}
        frames:
          A: {id: 0x100, format: fd, length: 64, every: 5 ms, fields: {n: {bit: 0, bits: 8, counter: {to: 255}}, echo: {bit: 504, bits: 8, follow: Other.last, lost: 255}}}
          B: {id: 0x1ABCDE, format: fd, switch rate: no, length: 12, every: 5 ms, base: FF FF FF FF FF FF FF FF FF FF FF 1F}
          C: {id: 0x101, length: 8, every: 5 ms}
        """;

    private static readonly string s_data = string.Join(' ', Enumerable.Range(0, 64).Select(i => $"{i * 7 & 0xFF:X2}"));

    private static readonly BoardPlan s_plan = Plan();

    private static readonly Stimulus s_stimulus = Read($$"""
        locum: 1
        stimulus: both formats
        for: 200 ms
        traffic:
          body:
            - {id: 0x20, format: fd, every: 7 ms, until: 100 ms, data: {{s_data}}}
            - {id: 0x50, every: 3 ms, data: 01 02}
        """);

    [Fact]
    public void The_program_equals_the_simulator()
    {
        using var folder = new FirmwareFolder(s_plan);
        Assert.Equal("", folder.Make());
        var proof = Prover.Compare(s_plan, s_stimulus, folder.Root);
        Assert.True(proof.Equal, proof.Difference);
        Assert.InRange(proof.Frames, 150, 300);
    }

    [Theory]
    [InlineData("locum_tables.c", "0x100u | LOCUM_ID_FD | LOCUM_ID_SWITCH_RATE", "0x100u | LOCUM_ID_FD", "format: fd-switched against fd")]
    [InlineData("locum_tables.c", "0x101u,", "0x101u | LOCUM_ID_FD,", "format: classic against fd")]
    [InlineData("board_config.h", "4000000u", "5000000u", "end:")]
    [InlineData("port/bus_model.c", "28u : 33u", "28u : 32u", "end:")]
    [InlineData("port/bus_model.c", "if (counter.stuffed) {", "if (false) {", "end:")]
    public void Changed_c_is_caught(string file, string right, string wrong, string expected)
    {
        using var folder = new FirmwareFolder(s_plan);
        var path = Path.Combine(folder.Root, file);
        var text = File.ReadAllText(path);
        Assert.Contains(right, text, StringComparison.Ordinal);
        File.WriteAllText(path, text.Replace(right, wrong, StringComparison.Ordinal));
        Assert.Equal("", folder.Make());
        var proof = Prover.Compare(s_plan, s_stimulus, folder.Root);
        Assert.False(proof.Equal);
        Assert.Contains(expected, proof.Difference, StringComparison.Ordinal);
    }

    private static BoardPlan Plan()
    {
        var (module, found) = Descriptions.Bind($"locum: 1\nmodule: m\nhazard: none\nbuses: {{body: {{rate: 500 kbit/s, data rate: 4 Mbit/s}}}}\n{Frames}\n");
        Assert.Empty(found);
        return BoardPlanner.Plan(BoardPlanner.Alone(module), new DiagnosticBag())!;
    }

    private static Stimulus Read(string text)
    {
        var bag = new DiagnosticBag();
        var stimulus = StimulusBinder.Bind(SyntaxReader.Read(new SourceText("s.yaml", text), bag)!, null, null, bag);
        Assert.Empty(bag.Sorted);
        return stimulus!;
    }
}
