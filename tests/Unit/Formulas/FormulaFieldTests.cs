using Locum.Formulas;
using Locum.Model;
using Locum.Tests.Unit.Cli;
using Xunit;

namespace Locum.Tests.Unit.Formulas;

/// <summary>Formulas in descriptions: what they see, and that the firmware computes what the simulator does.</summary>
public sealed class FormulaFieldTests
{
    private const string Stimulus = """
        locum: 1
        stimulus: drive, lose the speed, drive again
        for: 4 s
        inputs:
          run-line:
            - {at: 400 ms, level: active}
            - {at: 3 s, level: inactive}
        traffic:
          body:
            - {id: 0x0C4, every: 10 ms, offset: 300 ms, until: 1 s, data: 10 27 F0 0F 00 00 00 C0}
            - {id: 0x0C4, every: 10 ms, offset: 2 s, until: 2.5 s, data: 10 02 00 01 00 00 00 80}

        """;

    [Theory]
    [InlineData("a: {bit: 0, bits: 4, formula: c + 1}, c: {bit: 4, bits: 3, value: 3}", "")] // values come first
    [InlineData("a: {bit: 0, bits: 4, formula: c}, c: {bit: 4, bits: 3, formula: 3}", "LC1107")]
    [InlineData("c: {bit: 4, bits: 3, formula: 3}, a: {bit: 0, bits: 4, formula: c}", "")]
    [InlineData("a: {bit: 0, bits: 4, formula: a}", "LC1107")]
    [InlineData("a: {bit: 0, bits: 8, formula: g}, g: {bit: 8, bits: 8, checksum: {rule: sum, over: 2..3}}", "LC1107")]
    [InlineData("g: {bit: 8, bits: 8, checksum: {rule: sum, over: 2..3}}, h: {bit: 0, bits: 8, checksum: {rule: {formula: 255 - g}}}", "")]
    [InlineData("h: {bit: 0, bits: 8, checksum: {rule: {formula: 255 - g}}}, g: {bit: 8, bits: 8, checksum: {rule: sum, over: 2..3}}", "LC1107")]
    [InlineData("a: {bit: 0, bits: 4, formula: '3', value: 3}", "LC0607")]
    [InlineData("a: {bit: 0, bits: 4, formula: [3]}", "LC0204")]
    [InlineData("a: {bit: 0, bits: 16, formula: F.id}, id: {bit: 16, bits: 16, value: 7}", "")]
    [InlineData("h: {bit: 0, bits: 8, checksum: {rule: {formula: 'sum(0, 7) & 0xFF'}}}", "")] // its own bits are 0
    [InlineData("h: {bit: 0, bits: 8, checksum: {rule: {formula: '1'}, with: [3]}}", "LC1118")]
    public void Fields_see_what_is_written_before_them(string fields, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Check(Descriptions.Fields(fields))));

    [Fact]
    public void Bits_that_nothing_writes_and_fixed_values_are_constants()
    {
        var (module, found) = Descriptions.Bind(Descriptions.Module(
            "frames: {F: {id: 0x123, length: 2, every: 1 s, base: A5 00, fields: {free: {bit: 4, bits: 4}, fixed: {bit: 8, bits: 4, value: 3}, a: {bit: 12, bits: 4, formula: free + fixed - length + (id & 1)}}}}"));
        Assert.Empty(found);
        var formula = Assert.IsType<FormulaValue>(module.Frames[0].Fields[2].Source).Formula;
        Assert.Equal(0xA + 3 - 2 + 1, Assert.IsType<ConstantNode>(formula.Root).Value);
    }

    [Fact]
    public void A_formula_that_listens_needs_a_value_for_the_loss()
    {
        const string frame = "receives: {Drive: {id: 0x55, fields: {speed: {bit: 0, bits: 8}}}}\nframes: {F: {id: 1, length: 1, every: 1 s, fields: {a: {bit: 0, bits: 8, formula: Drive.speed";
        Assert.Equal("LC0203", Descriptions.Ids(Descriptions.Check(Descriptions.Module($"{frame}}}}}}}}}"))));
        Assert.Equal("", Descriptions.Ids(Descriptions.Check(Descriptions.Module($"{frame}, lost: 255}}}}}}}}"))));
        Assert.Equal("LC0603", Descriptions.Ids(Descriptions.Check(Descriptions.Module($"{frame}, lost: 256}}}}}}}}"))));
    }

    [Fact]
    public void The_firmware_sends_what_the_simulator_does()
    {
        using var folder = new TempFolder();
        File.Copy(RepoRoot.Path("tests", "Golden", "valid", "formulas.yaml"), folder.Path("formulas.yaml"));
        File.WriteAllText(folder.Path("drive.stimulus.yaml"), Stimulus);
        File.WriteAllText(folder.Path("project.yaml"), "locum: 1\nproject: formulas\nboards:\n  bench: {board: pc, modules: [formulas.yaml], stimulus: drive.stimulus.yaml}\n");
        var (code, output, error) = CommandLine.Run("prove", folder.Path());
        Assert.True(code is 0, output + error);
        Assert.Contains("equal", output, StringComparison.Ordinal);
    }
}
