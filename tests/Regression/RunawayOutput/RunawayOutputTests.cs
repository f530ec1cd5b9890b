using Locum.Tests.Unit.Cli;
using Xunit;

namespace Locum.Tests.Regression.RunawayOutput;

/// <summary>An output that ended the mode in which it is on kept the simulator busy until memory was used up.</summary>
public sealed class RunawayOutputTests
{
    internal const string Expected = "m.yaml:9:11: error LC1703: output 'x' of board 'm' switches hundreds of times within 1 ms";

    private const string Module = """
        locum: 1
        module: m
        hazard: none
        buses: {b: {rate: 125 kbit/s}}
        inputs: {x: {active: high}}
        modes:
          rests: {until: {x: inactive, then: pulls}}
          pulls: {until: {x: active, then: rests}}
        outputs: {x: {active: high, in: pulls, after: AFTER}}
        frames: {F: {id: 0x100, length: 1, every: 100 ms}}
        """;

    [Theory]
    [InlineData("simulate")]
    [InlineData("prove")]
    [InlineData("all", "--out", "OUT")]
    [InlineData("report", "--out", "OUT")]
    public void Is_told_and_ends(string command, params string[] more)
    {
        using var folder = new TempFolder();
        var path = Write(folder, "0 us");
        var (code, output, error) = CommandLine.Run([command, path, .. more.Select(m => m is "OUT" ? folder.Path("out") : m)]);
        Assert.Equal(1, code);
        Assert.Contains("output 'x' of board 'm' switches hundreds of times within 1 ms", output + error, StringComparison.Ordinal);
        Assert.True(command is "prove" || error.Contains(Expected, StringComparison.Ordinal), error);
        Assert.False(Path.Exists(folder.Path("out")));
    }

    [Fact]
    public void Blinks_with_a_pause_of_a_millisecond()
    {
        using var folder = new TempFolder();
        Assert.Equal(0, CommandLine.Run("prove", Write(folder, "1 ms")).Code);
    }

    private static string Write(TempFolder folder, string after)
    {
        var path = folder.Path("m.yaml");
        File.WriteAllText(path, Module.Replace("AFTER", after, StringComparison.Ordinal));
        return path;
    }
}
