using System.Text.Json;
using Locum.Tests.Golden;
using Xunit;

namespace Locum.Tests.Unit.Cli;

public sealed class ReadCommandTests
{
    private static string Capture(string name) => Path.Combine(Corpus.Folder("captures"), name);

    [Fact]
    public void Tells_the_form_and_on_standard_error_what_is_odd()
    {
        var (code, output, error) = CommandLine.Run("read", Capture("damaged-rows.csv"));

        Assert.Equal(0, code);
        Assert.Contains("68 frames", output, StringComparison.Ordinal);
        Assert.Contains("damaged-rows.csv:14: data that are no bytes; left out", error.Replace("\r", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.DoesNotContain("column names", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Json_has_everything()
    {
        var (_, output, _) = CommandLine.Run("read", Capture("two-buses.csv"), Capture("clean.pcap"), "--format", "json");

        var captures = JsonDocument.Parse(output).RootElement.EnumerateArray().ToList();
        Assert.Equal(["table", "pcap"], captures.Select(c => c.GetProperty("format").GetString()));
        Assert.Equal(["body", "drive"], captures[0].GetProperty("buses").EnumerateArray().Select(b => b.GetProperty("name").GetString()));
        Assert.Equal(69, captures[0].GetProperty("items").GetInt64());
        Assert.Equal(1, captures[0].GetProperty("left_out").GetInt64());
        Assert.Equal(3, captures[0].GetProperty("identifiers").GetArrayLength());
    }

    [Theory]
    [InlineData(".pcapng")]
    [InlineData(".log")]
    [InlineData(".csv")]
    public void Converts_without_loss(string ending)
    {
        using var folder = new TempFolder();
        string one = folder.Path("one" + ending);
        Assert.Equal(0, CommandLine.Run("read", Capture("remote-and-errors.log"), "--out", one).Code);

        var before = Unit.Capture.Captured.Of(File.ReadAllBytes(Capture("remote-and-errors.log")));
        var after = Unit.Capture.Captured.Of(File.ReadAllBytes(one));
        Assert.Equal(before.Entries, after.Entries);
    }

    [Fact]
    public void Times_before_zero_survive_conversion()
    {
        using var folder = new TempFolder();
        string one = folder.Path("one.pcapng");
        CommandLine.Run("read", Capture("time-negative.csv"), "--out", one);

        var before = Unit.Capture.Captured.Of(File.ReadAllBytes(Capture("time-negative.csv")));
        Assert.Equal(before.Entries, Unit.Capture.Captured.Of(File.ReadAllBytes(one)).Entries);
    }

    [Theory]
    [InlineData("prose.txt")]
    [InlineData("empty.log")]
    [InlineData("ethernet.pcap")]
    [InlineData("no-such-file")]
    public void What_is_not_usable_leaves_nothing_behind(string name)
    {
        using var folder = new TempFolder();
        string one = folder.Path("one.csv");
        var (code, output, error) = CommandLine.Run("read", Capture(name), "--out", one);

        Assert.Equal(2, code);
        Assert.Equal("", output);
        Assert.Contains("error LC", error, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFiles(folder.Path()));
    }

    [Fact]
    public void Refuses_unknown_endings_and_several_captures_for_one_file()
    {
        Assert.Equal(2, CommandLine.Run("read", Capture("clean.log"), "--out", "x.doc").Code);
        Assert.Equal(2, CommandLine.Run("read", Capture("clean.log"), Capture("clean.csv"), "--out", "x.csv").Code);
    }

    [Fact]
    public void A_wrong_layout_is_told_and_a_right_one_used()
    {
        Assert.Equal(0, CommandLine.Run("read", Capture("by-name.csv"), "--layout", Capture("by-name.csv.layout.yaml")).Code);
        var (code, _, error) = CommandLine.Run("read", Capture("clean.csv"), "--layout", Path.Combine(Corpus.Folder("invalid"), "layouts.yaml"));
        Assert.Equal(2, code);
        Assert.Contains("LC1205", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_silent_capture_is_a_finding() => Assert.Equal(1, CommandLine.Run("read", Capture("silent.pcap")).Code);

    [Theory]
    [InlineData("log")]
    [InlineData("csv")]
    [InlineData("jsonl")]
    [InlineData("pcapng")]
    [InlineData("txt")]
    public void What_simulate_writes_can_be_read(string ending)
    {
        using var folder = new TempFolder();
        string one = folder.Path("one." + ending);
        Assert.Equal(0, CommandLine.Run("simulate", RepoRoot.Path("projects", "depot-loco"), "--board", "cab", "--for", "2 s", "--out", one).Code);
        var (code, output, error) = CommandLine.Run("read", one, "--format", "json");

        Assert.True(code is 0, error);
        var capture = JsonDocument.Parse(output).RootElement[0];
        Assert.Equal(0, capture.GetProperty("left_out").GetInt64() - (ending is "csv" or "txt" ? 1 : 0));
        Assert.Equal("body", capture.GetProperty("buses")[0].GetProperty("name").GetString());
    }
}
