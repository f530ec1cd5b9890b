using Locum.Pages;
using Locum.Pipeline;
using Xunit;

namespace Locum.Tests.Unit.Pages;

public sealed class ModeDiagramTests
{
    public static TheoryData<string> Modules => [.. Directory.GetFiles(RepoRoot.Path("projects", "depot-loco"), "*.yaml").Select(f => Path.GetFileName(f)).Where(f => !f.Contains("stimulus", StringComparison.Ordinal) && f is not "project.yaml").Order()];

    [Theory]
    [MemberData(nameof(Modules))]
    public void Every_way_is_drawn_and_none_runs_over_another(string file)
    {
        var module = Loader.Load(RepoRoot.Path("projects", "depot-loco", file)).Plans[0].Modules[0].Module;
        var diagram = ModeDiagram.Of(module);
        Assert.Equal(module.Modes.Select(m => m.Name).Order(), diagram.Boxes.Select(b => b.Name).Order());
        Assert.Equal(module.Modes.Sum(m => m.Exits.Count + (m.Then is null ? 0 : 1)), diagram.Ways.Count);
        Assert.Equal(diagram.Ways.Count, diagram.Ways.Select(w => w.Y).Distinct().Count());
        foreach (var track in diagram.Ways.GroupBy(w => w.TrackX))
        {
            var spans = track.Select(w => (Top: Math.Min(w.Y, w.ToY), Bottom: Math.Max(w.Y, w.ToY))).OrderBy(s => s.Top).ToList();
            Assert.All(spans.Zip(spans.Skip(1)), pair => Assert.True(pair.First.Bottom < pair.Second.Top));
        }
        Assert.All(diagram.Ways, w => Assert.True(w.TrackX < diagram.Width && Math.Max(w.Y, w.ToY) < diagram.Height));
    }

    [Fact]
    public void Modes_stand_in_the_order_in_which_they_are_reached()
    {
        var (module, found) = Descriptions.Bind(Descriptions.Module("""
            inputs: {key: {kind: line, active: high}}
            modes:
              off: {until: {key: active, then: run}}
              end: {for: 1 s, then: off}
              run: {for: 20 ms, then: end, until: {key: inactive, then: off}}
            frames: {F: {id: 0x100, length: 1, every: 20 ms, in: [run, end]}}
            """));
        Assert.Empty(found);
        var diagram = ModeDiagram.Of(module);
        Assert.Equal(["off", "run", "end"], diagram.Boxes.Select(b => b.Name));
        Assert.Equal(["sends nothing", "sends 1 frame", "sends 1 frame"], diagram.Boxes.Select(b => b.Says));
        Assert.Contains(diagram.Ways, w => w is { From: "run", To: "off", When: "key inactive", Timed: false });
        Assert.Contains(diagram.Ways, w => w is { From: "run", To: "end", When: "after 20 ms", Timed: true });
    }
}
