using System.Text.RegularExpressions;
using Locum.Tests.Unit.Cli;
using Xunit;

namespace Locum.Tests.Architecture;

/// <summary>What README says is true: its commands run, its examples are accepted.</summary>
public sealed partial class ReadmeTests
{
    private static readonly string s_readme = File.ReadAllText(RepoRoot.Path("README.md"));

    [Fact]
    public void The_first_command_is_the_main_job()
    {
        var match = FirstCommand().Match(s_readme);
        Assert.True(match.Success);
        using var folder = new TempFolder();
        string[] arguments = [.. match.Groups[1].Value.Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Select(a => a.StartsWith("projects/", StringComparison.Ordinal) ? RepoRoot.Path(a.Split('/')) : a is "out/depot-loco" ? folder.Path("out") : a)];
        var (code, output, _) = CommandLine.Run(arguments);
        Assert.Equal(0, code);
        Assert.Contains(folder.Path("out", "cab"), output, StringComparison.Ordinal);
    }

    [Fact]
    public void Yaml_examples_are_accepted_as_they_stand()
    {
        using var folder = new TempFolder();
        var examples = YamlBlock().Matches(s_readme).Select(m => m.Groups[1].Value).ToList();
        Assert.Equal(4, examples.Count);
        File.WriteAllText(folder.Path("cab-heat.yaml"), examples[0]);
        File.WriteAllText(folder.Path("project.yaml"), examples[1]);
        File.WriteAllText(folder.Path("cab-heat.stimulus.yaml"), examples[2]);
        File.WriteAllText(folder.Path("workshop.layout.yaml"), examples[3]);
        var (code, output, _) = CommandLine.Run("check", folder.Path(), folder.Path("workshop.layout.yaml"));
        Assert.True(code is 0, output);
    }

    [Fact]
    public void The_figures_are_the_committed_ones()
    {
        foreach (var file in new[] { "figures.txt", "ports.txt" })
            Assert.Contains(File.ReadAllText(RepoRoot.Path("tests", "Firmware", file)), s_readme, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_command_is_in_the_table()
    {
        var (_, help, _) = CommandLine.Run("--help");
        var commands = Regex.Matches(help, @"^  ([a-z]+)( <[^>]+>(\.\.\.)?)?  +\S", RegexOptions.Multiline).Select(m => m.Groups[1].Value).ToList();
        Assert.True(commands.Count >= 6, help);
        Assert.All(commands, command => Assert.Contains($"| `locum {command}", s_readme, StringComparison.Ordinal));
    }

    [GeneratedRegex(@"dotnet run --project generator -- (\S.*?)\s+#")]
    private static partial Regex FirstCommand();

    [GeneratedRegex("```yaml\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex YamlBlock();
}
