using System.Text.Json;
using System.Text.RegularExpressions;
using Xunit;

namespace Locum.Tests.Unit.Cli;

public class BudgetCommandTests
{
    private const string Fan = """
        locum: 1
        module: fan   # a fan
        hazard: none
        buses: {body: {rate: 125 kbit/s}}
        frames:
          Speed: {id: 0x100, length: 8, every: 10 ms}   # as recorded
          State: {id: 0x200, length: 8, every: 10 ms, offset: 0 ms}
          Life:
            id: 0x300
            length: 8
            every: 20 ms

        """;

    [Fact]
    public void The_demo_holds_and_fits_80_columns()
    {
        var (code, output, _) = CommandLine.Run("budget", RepoRoot.Path("projects", "depot-loco"));

        Assert.Equal(0, code);
        Assert.Contains("bus body, 500 kbit/s", output);
        Assert.All(output.Split('\n'), l => Assert.InRange(l.Length, 0, 80));
    }

    [Fact]
    public void Json_and_markdown_say_the_same()
    {
        using var folder = new TempFolder();
        var path = Write(folder);
        var json = JsonDocument.Parse(CommandLine.Run("budget", path, "--format", "json").Output).RootElement.GetProperty("buses")[0];
        var markdown = CommandLine.Run("budget", path, "--format", "markdown").Output;

        // By hand: a frame of 8 bytes is 132 bits of 8 µs, 135 with intermission; Speed waits for one lower frame.
        var speed = json.GetProperty("frames")[0];
        Assert.Equal((1056, 1080, 2136), (speed.GetProperty("wireUs").GetInt64(), speed.GetProperty("blockingUs").GetInt64(), speed.GetProperty("withinUs").GetInt64()));
        Assert.Equal(3 * 1080, json.GetProperty("offsets")[0].GetProperty("peakUs").GetInt64());
        Assert.Equal((2 * 1080 / 10_000.0) + (1080 / 20_000.0), json.GetProperty("worstLoad").GetDouble(), 1e-9);
        // Zeros composed: fewer stuff bits than there could be.
        Assert.InRange(json.GetProperty("meanLoad").GetDouble(), 0.2, json.GetProperty("worstLoad").GetDouble() - 0.001);
        Assert.Contains("| fan.Speed | 0x100 | 10 | 1056 | 2.136 | 10 | ok |", markdown);
    }

    [Fact]
    public void Better_offsets_are_written_and_nothing_else()
    {
        using var folder = new TempFolder();
        var path = Write(folder);

        var (code, output, error) = CommandLine.Run("budget", path, "--apply");

        Assert.Equal(0, code);
        Assert.Contains("Wire time at once 3.24 -> 1.08 ms", output);
        Assert.Contains("offsets written", error);
        Assert.NotEqual(Fan, File.ReadAllText(path));
        Assert.Equal(WithoutOffsets(Fan), WithoutOffsets(File.ReadAllText(path)));
        Assert.Contains("# as recorded", File.ReadAllText(path));
        // A second time there is nothing better.
        Assert.Contains("no better offsets were found", CommandLine.Run("budget", path, "--apply").Error);

        static string WithoutOffsets(string text) => Regex.Replace(text, @"(, |\n    )offset: [0-9.]+ ms", "");
    }

    [Fact]
    public void A_capture_brings_the_rest_of_the_bus()
    {
        using var folder = new TempFolder();
        var path = Write(folder);
        // Every 5 ms, once 1 ms early; and the fan's own frame, which is described already.
        var lines = Enumerable.Range(0, 400).Select(i => $"({(i * 0.005) - (i is 200 ? 0.001 : 0):0.000000}) body 050#00000000000000FF").Append("(2.100000) body 100#00");
        File.WriteAllLines(folder.Path("rest.log"), lines);

        var (code, output, _) = CommandLine.Run("budget", path, "--capture", folder.Path("rest.log"), "--format", "json");

        var bus = JsonDocument.Parse(output).RootElement.GetProperty("buses")[0];
        Assert.Equal(0, code);
        Assert.True(bus.GetProperty("othersKnown").GetBoolean());
        var other = bus.GetProperty("frames")[0];
        Assert.Equal((0x50, 5_000, 1_000, "seen"), (other.GetProperty("id").GetInt32(), other.GetProperty("periodUs").GetInt64(), other.GetProperty("jitterUs").GetInt64(), other.GetProperty("basis").GetString()));
        Assert.Equal(4, bus.GetProperty("frames").GetArrayLength());
    }

    [Fact]
    public void A_capture_of_other_buses_is_refused_where_there_are_several()
    {
        using var folder = new TempFolder();
        File.WriteAllLines(folder.Path("rest.log"), Enumerable.Range(0, 40).Select(i => $"({i * 0.005:0.000000}) can7 050#00"));

        var (code, output, error) = CommandLine.Run("budget", RepoRoot.Path("projects", "depot-loco"), "--capture", folder.Path("rest.log"));

        Assert.Equal((2, ""), (code, output));
        Assert.Contains("has none of the boards' buses, its own are can7", error);
        Assert.Contains("(body, load, drive, backbone)", error);
    }

    // The demo's capture is of bus body: nothing is known of the others.
    [Fact]
    public void A_capture_counts_for_the_bus_of_its_name()
    {
        var (_, output, _) = CommandLine.Run("budget", RepoRoot.Path("projects", "depot-loco"), "--capture", RepoRoot.Path("projects", "depot-loco", "captures", "out-1.pcapng"), "--format", "json");

        var known = JsonDocument.Parse(output).RootElement.GetProperty("buses").EnumerateArray().Select(b => (b.GetProperty("name").GetString(), b.GetProperty("othersKnown").GetBoolean()));
        Assert.Equal([("body", true), ("load", false), ("drive", false), ("backbone", false)], known);
    }

    [Fact]
    public void A_missed_deadline_is_a_finding()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("fan.yaml"), Fan.Replace("125 kbit/s", "50 kbit/s"));

        var (code, output, _) = CommandLine.Run("budget", folder.Path("fan.yaml"), "--errors-every", "5 ms");

        Assert.Equal(1, code);
        Assert.Contains("LATE", output);
    }

    [Theory]
    [InlineData("budget needs something to look at", "budget")]
    [InlineData("--errors-every takes a time", "budget", "x.yaml", "--errors-every", "soon")]
    [InlineData("LC0101", "budget", "no-such-file.yaml")]
    public void Bad_input_has_a_clear_error(string expected, params string[] arguments)
    {
        var (code, output, error) = CommandLine.Run(arguments);

        Assert.Equal(2, code);
        Assert.Contains(expected, output + error);
    }

    private static string Write(TempFolder folder)
    {
        File.WriteAllText(folder.Path("fan.yaml"), Fan);
        return folder.Path("fan.yaml");
    }
}
