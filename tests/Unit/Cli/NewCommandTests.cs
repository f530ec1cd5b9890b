using Locum.Boards;
using Spectre.Console.Testing;
using Xunit;

namespace Locum.Tests.Unit.Cli;

/// <summary>locum new: what it leaves is good as it stands.</summary>
public sealed class NewCommandTests : IDisposable
{
    private readonly TempFolder _folder = new();

    public static TheoryData<string> Boards => [.. BoardCatalogue.Names];

    public void Dispose() => _folder.Dispose();

    [Theory]
    [MemberData(nameof(Boards))]
    public void A_project_for_any_board_checks_simulates_and_generates(string board)
    {
        foreach (string[] more in new string[][] { [], ["--wake-line", "run-line", "--id", "0x18F0A42B", "--rate", "250k", "--bus", "drive", "--module", "lift pump"] })
        {
            string project = _folder.Path(more.Length is 0 ? "plain" : "other");
            var (code, output, error) = CommandLine.Run(["new", project, "--board", board, .. more]);
            Assert.True(code is 0, error);
            Assert.Contains("locum check ", output, StringComparison.Ordinal);
            Assert.Equal("no findings\n", CommandLine.Run("check", project).Output);
            Assert.Equal((0, "", ""), CommandLine.Run("format", "--check", project));
            Assert.Contains("Status", CommandLine.Run("simulate", project).Output, StringComparison.Ordinal);
            Assert.Equal(0, CommandLine.Run("generate", project, "--out", Path.Combine(project, "out")).Code);
            Assert.Equal("out/\n", File.ReadAllText(Path.Combine(project, ".gitignore")));
        }
    }

    [Theory]
    [InlineData]
    [InlineData("--wake-line", "run-line")]
    [InlineData("--id", "0x000000C4", "--wake-line", "run-line")]
    [InlineData("--id", "0x0C4", "--rate", "1M")]
    public void A_project_for_the_pc_is_proved(params string[] more)
    {
        Assert.Equal(0, CommandLine.Run(["new", _folder.Path("first"), "--board", "pc", .. more]).Code);
        var (code, output, error) = CommandLine.Run("prove", _folder.Path("first"));
        Assert.True(code is 0, output + error);
    }

    [Theory]
    [InlineData("restraint")]
    [InlineData("braking")]
    [InlineData("steering")]
    [InlineData("traction")]
    [InlineData("high-voltage")]
    public void A_hazard_is_refused_until_somebody_acknowledges_it(string hazard)
    {
        var (code, output, error) = CommandLine.Run("new", _folder.Path("risky"), "--hazard", hazard);
        Assert.Equal(0, code);
        Assert.Contains("'acknowledge' in risky.yaml is empty", output, StringComparison.Ordinal);
        Assert.Contains("Local law", error, StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("format", "--check", _folder.Path("risky")).Code);
        var file = _folder.Path("risky", "risky.yaml");
        var text = File.ReadAllText(file);
        foreach (var empty in new[] { "\"\"", "\"  \"", "", "~" })
        {
            File.WriteAllText(file, text.Replace("acknowledge: \"\"", $"acknowledge: {empty}", StringComparison.Ordinal));
            (code, output, _) = CommandLine.Run("check", _folder.Path("risky"));
            Assert.Equal(1, code);
            Assert.Contains("LC0802", output, StringComparison.Ordinal);
            Assert.Equal(2, CommandLine.Run("generate", _folder.Path("risky"), "--out", _folder.Path("out")).Code);
        }
        File.WriteAllText(file, text.Replace("acknowledge: \"\"", "acknowledge: Depot workshop, entry 18 of the works book", StringComparison.Ordinal));
        Assert.Equal(0, CommandLine.Run("check", _folder.Path("risky")).Code);
    }

    [Fact]
    public void What_is_missing_is_asked_and_wrong_answers_are_asked_again()
    {
        using var person = new TestConsole().Interactive().EmitAnsiSequences();
        foreach (var answer in new[] { "project", "heater" })
            person.Input.PushTextWithEnter(answer);
        person.Input.PushKey(ConsoleKey.DownArrow);
        person.Input.PushKey(ConsoleKey.Enter);
        foreach (var answer in new[] { "drive", "fast", "250 kbit/s", "0x3FFFFFFF", "0x3A1", "run-line" })
            person.Input.PushTextWithEnter(answer);
        person.Input.PushKey(ConsoleKey.Enter);

        var (code, _, error) = CommandLine.Run(person, ["new", _folder.Path("asked")]);

        Assert.True(code is 0, error);
        Assert.Contains("a bit rate from 5 kbit/s", person.Output, StringComparison.Ordinal);
        var text = File.ReadAllText(_folder.Path("asked", "heater.yaml"));
        Assert.Contains("drive: {rate: 250 kbit/s,", text, StringComparison.Ordinal);
        Assert.Contains("id: 0x3A1", text, StringComparison.Ordinal);
        Assert.Contains("run-line: {kind: wake line,", text, StringComparison.Ordinal);
        Assert.Contains("hazard: none", text, StringComparison.Ordinal);
        Assert.Contains($"board: {BoardCatalogue.Names[1]}", File.ReadAllText(_folder.Path("asked", "project.yaml")), StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("check", _folder.Path("asked")).Code);
    }

    [Fact]
    public void What_the_options_say_is_not_asked()
    {
        using var person = new TestConsole().Interactive().EmitAnsiSequences();
        var (code, _, error) = CommandLine.Run(person, ["new", _folder.Path("told"), "--board", "pc", "--module", "m", "--bus", "b", "--rate", "500k", "--id", "1", "--wake-line", "w", "--hazard", "none"]);
        Assert.True(code is 0, error);
        Assert.Equal("", person.Output);
    }

    [Fact]
    public void A_folder_that_holds_something_stays_as_it_is()
    {
        File.WriteAllText(_folder.Path("letter.txt"), "dear");
        foreach (var target in new[] { _folder.Path(), _folder.Path("letter.txt") })
        {
            var (code, output, error) = CommandLine.Run("new", target);
            Assert.Equal((2, ""), (code, output));
            Assert.Contains("name a new or an empty folder", error, StringComparison.Ordinal);
        }
        Assert.Equal(["letter.txt"], Directory.GetFileSystemEntries(_folder.Path()).Select(Path.GetFileName));
    }

    [Fact]
    public void An_empty_folder_is_filled_and_nothing_stays_beside_it()
    {
        Directory.CreateDirectory(_folder.Path("Ä folder"));
        Assert.Equal(0, CommandLine.Run("new", _folder.Path("Ä folder")).Code);
        Assert.Equal([".gitignore", "project.yaml", "Ä folder.stimulus.yaml", "Ä folder.yaml"], Directory.GetFiles(_folder.Path("Ä folder")).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal));
        Assert.Equal(["Ä folder"], Directory.GetFileSystemEntries(_folder.Path()).Select(Path.GetFileName));
        Assert.Equal(0, CommandLine.Run("check", _folder.Path("Ä folder")).Code);
    }

    [Theory]
    [InlineData("--board", "toaster")]
    [InlineData("--module", "../x")]
    [InlineData("--module", "Project")]
    [InlineData("--bus", "9")]
    [InlineData("--rate", "2M")]
    [InlineData("--id", "0x20000000")]
    [InlineData("--wake-line", "")]
    [InlineData("--hazard", "mild")]
    public void Unusable_arguments_write_nothing(string option, string value)
    {
        var (code, _, error) = CommandLine.Run("new", _folder.Path("x"), option, value);
        Assert.Equal(2, code);
        Assert.NotEqual("", error);
        Assert.Empty(Directory.GetFileSystemEntries(_folder.Path()));
    }
}
