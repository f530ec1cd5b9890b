using System.CommandLine.Parsing;
using System.Text.RegularExpressions;
using Locum.Cli;
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

    [Fact]
    public void Every_command_line_is_understood()
    {
        var lines = Commands(s_readme).ToList();
        Assert.True(lines.Count >= 20, $"{lines.Count} command lines");
        var tree = Application.Tree(new Terminal(TextWriter.Null, TextWriter.Null, Stream.Null, false, false));
        foreach (var (arguments, _) in lines)
            Assert.True(tree.Parse(arguments).Errors.Count is 0, $"{string.Join(' ', arguments)}: {string.Join("; ", tree.Parse(arguments).Errors)}");
    }

    [Fact]
    public void The_first_hour_runs_as_written()
    {
        using var folder = new TempFolder();
        foreach (var file in Directory.GetFiles(RepoRoot.Path("projects"), "*", SearchOption.AllDirectories))
        {
            var copy = folder.Path(Path.GetRelativePath(RepoRoot.Path(), file));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(file, copy);
        }
        var seen = new List<string>();
        foreach (var (arguments, expected) in Commands(FirstHour().Match(s_readme).Value))
        {
            var (code, output, error) = CommandLine.Run([.. arguments.Select(a => a.StartsWith("projects/", StringComparison.Ordinal) || a.StartsWith("first-hour", StringComparison.Ordinal) ? folder.Path(a) : a)]);
            Assert.True(code == expected, $"{string.Join(' ', arguments)} ended with {code}\n{output}{error}");
            seen.Add(arguments[0]);
        }
        Assert.Equal(["read", "missing", "new", "draft", "check", "simulate", "generate", "prove", "audit", "report", "diff"], seen);
        foreach (var id in new[] { "0x2D1", "0x2D3", "0x5E0" })
            Assert.Contains($"id: {id}\n", File.ReadAllText(folder.Path("first-hour", "heater.yaml")), StringComparison.Ordinal);
        Assert.True(File.Exists(folder.Path("first-hour", "out", "firmware", "heater", "README.md")));
    }

    // Command lines of this program in the shell blocks of a text, with the exit code that a comment behind them states.
    private static IEnumerable<(string[] Arguments, int Code)> Commands(string text) =>
        from block in ShellBlock().Matches(text)
        from line in Regex.Replace(block.Groups[1].Value, @"\\\n\s*", "").Split('\n')
        let command = Regex.Match(line, @"^(?:locum|dotnet run --project generator --) (.*?)(?:\s+# *(?:(\d):)?.*)?$")
        where command.Success
        select (CommandLineParser.SplitCommandLine(command.Groups[1].Value).ToArray(), command.Groups[2].Success ? int.Parse(command.Groups[2].Value) : 0);

    [GeneratedRegex("```sh\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex ShellBlock();

    [GeneratedRegex("^## The first hour\n.*?(?=^## )", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex FirstHour();

    [GeneratedRegex(@"dotnet run --project generator -- (\S.*?)\s+#")]
    private static partial Regex FirstCommand();

    [GeneratedRegex("```yaml\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex YamlBlock();
}
