using System.Text.RegularExpressions;
using Locum.Boards;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Rendering;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>The README of a generated project tells all that the board's user has to wire, do and heed.</summary>
public sealed partial class ManualPageTests
{
    private const string Module = """
        locum: 1
        module: m
        hazard: braking
        acknowledge: "the works' engineer: test rig only"
        buses: {rig: {rate: 250 kbit/s}}
        inputs: {lamp-line: {active: high}}
        outputs: {first-load: {active: high, while: {lamp-line: active}}}
        frames: {F: {id: 0x120, length: 1, every: 20 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}}
        """;

    private const string Guards = "{bus off: {recoveries: 3, within: 60 s, wait: 300 ms}, run at most: 8 h, reset: resume, enable: {input: bench}}";

    private static readonly LoadedProject s_loaded = new GeneratedProject([Module + "\n"], []) { Guards = Guards }.Load();

    public static TheoryData<string> Kinds => [.. BoardCatalogue.Names.Where(n => n is not BoardPlanner.PcBoard)];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Wiring_build_first_test_lights_and_cautions(string kind)
    {
        var (plan, page) = Page(kind);

        Assert.Equal("# rig: one", page.Split('\n')[0]);
        foreach (var (name, pin) in plan.Inputs.Select(i => (i.Name, i.Pin)).Concat(plan.Outputs.Select(o => (o.Output.Name, o.Pin))))
            Assert.Matches($@"(?m)^\|.*\b{name}\b.*\| {pin!.Name}\b.*\|$", page);
        foreach (var bus in plan.Buses)
            Assert.All(bus.Pins.Values, p => Assert.Matches($@"(?m)^\|.*\b{bus.Name}\b.*\b{p.Name}\b", page));
        Assert.Matches(@"250000 bit/s|250000|250 kbit/s", page);
        if (plan.Led is { } led)
            Assert.Contains(led.Name, page, StringComparison.Ordinal);
        Assert.Contains("brak", Section(page, "Cautions"), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("one other node", Unwrapped(Section(page, "First test on the bench")), StringComparison.OrdinalIgnoreCase);
        Assert.Matches("`(make|idf.py)|Arduino", page);
        if (kind is not "linux-socketcan")
            Assert.All(Enumerable.Range(2, 4), code => Assert.Contains($"| {code} flashes, then dark |", page, StringComparison.Ordinal));
        if (kind is not ("linux-socketcan" or "own-board"))
            Assert.Contains("| 1 flash, then dark |", page, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Tables_are_whole_and_nothing_of_the_template_is_left(string kind)
    {
        var page = Page(kind).Page;
        Assert.DoesNotContain("{{", page, StringComparison.Ordinal);
        Assert.DoesNotContain("\n\n\n", page, StringComparison.Ordinal);
        foreach (var table in Regex.Matches(page, @"(?m)(^\|.*\n)+").Select(m => m.Value.TrimEnd('\n').Split('\n')))
        {
            Assert.Matches(@"^(\|---)+\|$", table[1]);
            Assert.All(table, row => Assert.Equal((row, Columns(table[0])), (row, Columns(row))));
        }
        Assert.True(page.Split('\n').Length < 160, "short enough to be read");
    }

    private static (BoardPlan Plan, string Page) Page(string kind)
    {
        var plan = GeneratedProject.On(kind, s_loaded.Use)!;
        return (plan, FirmwareRenderer.Render(plan, "rig", Versions.Generator).Single(f => f.Path is "README.md").Text);
    }

    private static int Columns(string row) => Code().Replace(row, "").Count(c => c is '|');

    private static string Section(string page, string heading) =>
        page.Split("\n## ").Single(s => s.StartsWith(heading + "\n", StringComparison.Ordinal));

    private static string Unwrapped(string text) => text.Replace("\n   ", " ", StringComparison.Ordinal).Replace("**", "", StringComparison.Ordinal);

    [GeneratedRegex("`[^`]*`")]
    private static partial Regex Code();
}
