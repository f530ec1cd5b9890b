using Xunit;

namespace Locum.Tests.Unit.Cli;

/// <summary>locum draft from files that the simulator wrote.</summary>
public sealed class DraftCommandTests : IDisposable
{
    private readonly TempFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_draft_passes_check_and_is_in_canonical_form()
    {
        string capture = Capture("cab");
        var (code, output, error) = CommandLine.Run("draft", capture, "--id", "0x2D1", "--id", "0x2D3", "--id", "0x5E0", "--out", _folder.Path("heat.yaml"));

        Assert.True(code is 0, error);
        Assert.Contains("Id2D1 on body", output, StringComparison.Ordinal);
        Assert.Contains("still unexplained:", output, StringComparison.Ordinal);
        Assert.All(output.Split('\n'), l => Assert.True(l.Length <= 80, l));
        Assert.Contains("restraint:", error, StringComparison.Ordinal);
        Assert.Contains("module: heat\n", File.ReadAllText(_folder.Path("heat.yaml")), StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("check", _folder.Path("heat.yaml")).Code);
        Assert.Equal(0, CommandLine.Run("format", "--check", _folder.Path("heat.yaml")).Code);
        Assert.Equal(0, CommandLine.Run("simulate", _folder.Path("heat.yaml"), "--for", "2 s").Code);
    }

    [Fact]
    public void Without_out_the_description_goes_to_standard_output()
    {
        var (code, output, error) = CommandLine.Run("draft", Capture("cab"), "--id", "0x2D1", "--rate", "250k");

        Assert.Equal(0, code);
        Assert.StartsWith("# Drafted from cab.pcapng.", output, StringComparison.Ordinal);
        Assert.Contains("body: {rate: 250 kbit/s}", output, StringComparison.Ordinal);
        Assert.Contains("still unexplained:", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Identifiers_of_captures_without_the_module_are_left_out()
    {
        // Another board's capture has the same neighbours but not the module.
        string without = _folder.Path("without.csv");
        File.WriteAllLines(without, File.ReadAllLines(Capture("cab", "csv")).Where(l => !l.Contains(",cab-heat.", StringComparison.Ordinal)));
        var (code, output, _) = CommandLine.Run("draft", Capture("cab"), "--without", without, "--format", "json");

        Assert.Equal(0, code);
        using var json = System.Text.Json.JsonDocument.Parse(output);
        Assert.Equal(["0x2D1", "0x2D3", "0x5E0"], json.RootElement.GetProperty("frames").EnumerateArray().Select(f => f.GetProperty("id").GetString()));
        Assert.StartsWith("# Drafted", json.RootElement.GetProperty("description").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--id", "0x123", "have no 0x123")]
    [InlineData("--id", "abc", "have no abc")]
    [InlineData("--bus", "nowhere", "have no nowhere")]
    [InlineData("--rate", "fast", "--rate takes a bit rate")]
    public void What_the_captures_do_not_hold_is_told(string option, string value, string expected)
    {
        var (code, output, error) = CommandLine.Run("draft", Capture("cab"), option, value);

        Assert.Equal(2, code);
        Assert.DoesNotContain("locum: 1", output, StringComparison.Ordinal);
        Assert.Contains(expected, error, StringComparison.Ordinal);
    }

    private string Capture(string board, string kind = "pcapng")
    {
        string path = _folder.Path($"{board}.{kind}");
        Assert.Equal(0, CommandLine.Run("simulate", RepoRoot.Path("projects", "depot-loco"), "--board", board, "--out", path).Code);
        return path;
    }
}
