using System.Text.Json;
using Xunit;

namespace Locum.Tests.Unit.Cli;

/// <summary>locum audit as a user sees it.</summary>
public sealed class AuditCommandTests
{
    private static readonly string s_heat = RepoRoot.Path("projects", "depot-loco", "cab-heat.yaml");

    [Fact]
    public void The_demo_is_clean()
    {
        var (code, output, error) = CommandLine.Run("audit", MissingCommandTests.Capture("in-1"), "--description", s_heat, "--original", MissingCommandTests.Capture("in-2"));
        Assert.Equal((0, ""), (code, error));
        Assert.Contains("\nno findings\n", output, StringComparison.Ordinal);
        Assert.Contains("assumed (common practice, no source): ", output, StringComparison.Ordinal);
        Assert.Contains("stamps in steps of", output, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_the_board_its_module_is_missed()
    {
        var (code, output, _) = CommandLine.Run("audit", MissingCommandTests.Capture("out-1"), "--description", s_heat);
        Assert.Equal(1, code);
        Assert.Contains("1. module cab-heat: never sent\n", output, StringComparison.Ordinal);
    }

    [Fact]
    public void Findings_are_told_with_time_and_line()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("heat.yaml"), File.ReadAllText(s_heat).Replace("every: 20 ms", "every: 40 ms", StringComparison.Ordinal).Replace("value: 21.0", "value: 20.0", StringComparison.Ordinal));
        string[] arguments = ["audit", MissingCommandTests.Capture("in-1"), "--description", folder.Path("heat.yaml")];
        var (code, output, _) = CommandLine.Run(arguments);
        Assert.Equal(1, code);
        Assert.Contains("1. HeatStatus 0x2D1: period\n    sent every 20 ms, described is 40 ms\n", output, StringComparison.Ordinal);
        Assert.Contains("target is 21 degC in all 229 frames, described is 20 degC", output, StringComparison.Ordinal);
        Assert.All(output.Split('\n').Where(l => !l.Contains(folder.Path(), StringComparison.Ordinal) && !l.Contains(RepoRoot.Path(), StringComparison.Ordinal)), line => Assert.True(line.Length <= 80, line));
        using var json = JsonDocument.Parse(CommandLine.Run([.. arguments, "--format", "json"]).Output);
        var findings = json.RootElement.GetProperty("findings").EnumerateArray().Select(f => $"{f.GetProperty("kind")} {f.GetProperty("frame")} {f.GetProperty("line")}").ToList();
        Assert.Equal(["period HeatStatus 25", "value HeatStatus 38"], findings);
        Assert.Equal("name", json.RootElement.GetProperty("buses")[0].GetProperty("by").GetString());
    }

    [Fact]
    public void Hazards_repeat_their_cautions()
    {
        var (_, _, error) = CommandLine.Run("audit", MissingCommandTests.Capture("in-1"), "--description", RepoRoot.Path("projects", "depot-loco", "wheel-slip.yaml"));
        Assert.Contains("CAUTION, wheel-slip (braking):", error, StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_used_ends_with_2()
    {
        Assert.Equal(2, CommandLine.Run("audit", MissingCommandTests.Capture("in-1")).Code);
        Assert.Equal(2, CommandLine.Run("audit", MissingCommandTests.Capture("absent"), "--description", s_heat).Code);
        Assert.Equal(2, CommandLine.Run("audit", MissingCommandTests.Capture("in-1"), "--description", MissingCommandTests.Capture("in-1")).Code);
        Assert.Equal(2, CommandLine.Run("audit", MissingCommandTests.Capture("in-1"), "--description", RepoRoot.Path("projects", "depot-loco"), "--board", "attic").Code);
    }
}
