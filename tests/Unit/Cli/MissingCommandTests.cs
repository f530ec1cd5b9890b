using System.Text.Json;
using Xunit;

namespace Locum.Tests.Unit.Cli;

/// <summary>locum missing as a user sees it, with the captures of the demo.</summary>
public sealed class MissingCommandTests
{
    private static readonly string[] s_arguments = ["missing", "--with", Capture("in-1"), Capture("in-2"), "--without", Capture("out-1"), Capture("out-2")];

    public static string Capture(string name) => RepoRoot.Path("projects", "depot-loco", "captures", $"{name}.pcapng");

    [Fact]
    public void The_demo_misses_its_heater()
    {
        var (code, output, error) = CommandLine.Run(s_arguments);
        Assert.Equal((1, ""), (code, error));
        Assert.Contains("  0x2D1          448   2 of 2    20 ms      435 certain  A\n", output, StringComparison.Ordinal);
        Assert.Contains("  A: probably one sender (likely): 0x2D1, 0x2D3;", output, StringComparison.Ordinal);
        Assert.Contains("too rare to tell: 0x5F1", output, StringComparison.Ordinal);
        Assert.All(output.Split('\n').Where(l => !l.Contains(RepoRoot.Path(), StringComparison.Ordinal)), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public void Json_says_the_same()
    {
        var (code, output, _) = CommandLine.Run([.. s_arguments, "--format", "json"]);
        Assert.Equal(1, code);
        using var json = JsonDocument.Parse(output);
        var found = json.RootElement.GetProperty("differences").EnumerateArray().Select(d => $"{d.GetProperty("kind")} {d.GetProperty("id")} {d.GetProperty("confidence")}");
        Assert.Equal(["missing 0x2D1 certain", "missing 0x2D3 certain", "missing 0x5E0 possible", "appeared 0x2F0 certain", "period 0x6A0 possible", "froze 0x2F5 possible", "value 0x2F5 possible"], found);
        Assert.Equal("0x5F1", json.RootElement.GetProperty("tooRare")[0].GetProperty("id").GetString());
    }

    [Fact]
    public void Exit_codes_tell_same_and_unusable()
    {
        Assert.Equal(0, CommandLine.Run("missing", "--with", Capture("in-1"), "--without", Capture("in-2")).Code);
        Assert.Equal(2, CommandLine.Run("missing", "--with", Capture("in-1")).Code);
        var (code, output, error) = CommandLine.Run("missing", "--with", Capture("in-1"), "--without", Capture("absent"));
        Assert.Equal((2, ""), (code, output));
        Assert.Contains("mend:", error, StringComparison.Ordinal);
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("e.log"), "nothing\n");
        Assert.Equal(2, CommandLine.Run("missing", "--with", Capture("in-1"), "--without", folder.Path("e.log")).Code);
    }

    // The captures in the project are what the project's own simulator makes of their stimuli.
    [Theory]
    [InlineData("in-1")]
    [InlineData("in-2")]
    [InlineData("out-1")]
    [InlineData("out-2")]
    public void The_captures_of_the_demo_are_made_by_the_simulator(string name)
    {
        using var folder = new TempFolder();
        var stimulus = RepoRoot.Path("projects", "depot-loco", "captures", $"{name}.stimulus.yaml");
        var (code, _, error) = CommandLine.Run("simulate", RepoRoot.Path("projects", "depot-loco"), "--board", "cab", "--stimulus", stimulus, "--out", folder.Path("made.pcapng"));
        Assert.True(code is 0, error);
        Assert.Equal(File.ReadAllBytes(folder.Path("made.pcapng")), File.ReadAllBytes(Capture(name)));
        Assert.True(new FileInfo(Capture(name)).Length < 50_000);
    }
}
