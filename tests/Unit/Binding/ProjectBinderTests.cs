using Locum.Binding;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Binding;

public class ProjectBinderTests
{
    [Fact]
    public void A_bare_word_stands_for_the_pin()
    {
        var (project, codes) = Bind("boards: {b: {board: pc, modules: [m.yaml], inputs: {line: A0, door: {pin: A1, pull: up}}, led: D8, stimulus: s.yaml}}");
        var board = Assert.Single(project.Boards);

        Assert.Equal("", codes);
        Assert.Equal("A0", board.InputSettings["line"]["pin"].Value);
        Assert.Equal("up", board.InputSettings["door"]["pull"].Value);
        Assert.Equal("D8", board.Led!.Value);
        Assert.Equal(Path.Combine("folder", "s.yaml"), board.StimulusPath);
        Assert.False(board.Bootloader);
    }

    [Theory]
    [InlineData("boards: {b: {board: pc, modules: m.yaml}}", "")] // one file needs no list
    [InlineData("boards: ", "LC0203")]
    [InlineData("summary: none", "LC0203")]
    [InlineData("boards: [pc]", "LC0203 LC0204")]
    [InlineData("boards: {b: {modules: [m.yaml]}}", "LC0203")]
    [InlineData("boards: {b: {board: pc}}", "LC0203")]
    [InlineData("boards: {b: {board: pc, modules: []}}", "LC0203")]
    [InlineData("boards: {b: {board: pc, modules: [[m.yaml]]}}", "LC0204")]
    [InlineData("boards: {b c: {board: pc, modules: [m.yaml]}}", "LC0207")]
    [InlineData("boards: {../b: {board: pc, modules: [m.yaml]}}", "LC0207")]
    [InlineData("boards: {b: {board: pc, modules: [m.yaml], led: [D8]}}", "LC0204")]
    [InlineData("boards: {b: {board: pc, modules: [m.yaml], bootloader: perhaps}}", "LC0208")]
    [InlineData("boards: {b: {board: pc, modules: [m.yaml], buses: {x: [1]}}}", "LC0204")]
    [InlineData("boards: {b: {board: pc, modules: [m.yaml], colour: red}}", "LC0202")]
    public void Boards_that_cannot_be_built_are_refused(string keys, string codes) => Assert.Equal(codes, Bind(keys).Codes);

    [Fact]
    public void The_name_of_a_project_is_a_single_value()
    {
        var bag = new DiagnosticBag();
        var source = new SourceText("p.yaml", "{locum: 1, project: [a], boards: {b: {board: pc, modules: [m.yaml]}}}");
        ProjectBinder.Bind(source, SyntaxReader.Read(source, bag)!, Load, bag);

        Assert.Equal("LC0204", Descriptions.Ids(bag.Sorted));
    }

    [Fact]
    public void Lists_of_boards_and_modules_end()
    {
        var boards = string.Join(", ", Enumerable.Range(0, 70).Select(i => $"b{i}: {{board: pc, modules: [m.yaml]}}"));
        var (project, codes) = Bind($"boards: {{{boards}}}");
        Assert.Equal((64, "LC0212"), (project.Boards.Count, codes));

        var modules = string.Join(", ", Enumerable.Repeat("m.yaml", 70));
        (project, codes) = Bind($"boards: {{b: {{board: pc, modules: [{modules}]}}}}");
        Assert.Equal((64, "LC0212"), (project.Boards[0].Modules.Count, codes));
    }

    private static (Project Project, string Codes) Bind(string keys)
    {
        var bag = new DiagnosticBag();
        var source = new SourceText(Path.Combine("folder", "project.yaml"), $"{{locum: 1, project: p, {keys}}}");
        var project = ProjectBinder.Bind(source, SyntaxReader.Read(source, bag)!, Load, bag)!;
        return (project, Descriptions.Ids(bag.Sorted));
    }

    private static Module? Load(string path, Span span) =>
        Descriptions.Bind(Descriptions.Module("frames: {F: {id: 1, length: 1, every: 1 s}}")).Module;
}
