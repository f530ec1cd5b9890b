using System.Text.Json;
using Xunit;

namespace Locum.Tests.Unit.Cli;

public class BenchCommandTests
{
    private static readonly string s_demo = RepoRoot.Path("projects", "depot-loco");

    [Fact]
    public void The_demo_holds_and_fits_80_columns()
    {
        var (code, output, error) = CommandLine.Run("bench", s_demo);

        Assert.Equal(0, code);
        Assert.Contains("bench of seat-occupancy, hazard restraint", output);
        Assert.Contains("CAUTION, seat-occupancy (restraint)", error);
        Assert.All(output.Split('\n'), l => Assert.InRange(l.Length, 0, 80));
        // A table that holds for all modules stands there once.
        Assert.Equal(2, output.Split("Pulses on a 12 V supply").Length);
    }

    [Fact]
    public void Json_and_markdown_say_the_same()
    {
        var json = JsonDocument.Parse(CommandLine.Run("bench", s_demo, "--board", "side", "--format", "json").Output).RootElement;
        var markdown = CommandLine.Run("bench", s_demo, "--board", "side", "--format", "markdown").Output;

        var seat = json.GetProperty("modules").EnumerateArray().Single(m => m.GetProperty("name").GetString() is "seat-occupancy");
        var loop = seat.GetProperty("tables").GetProperty("resistors").GetProperty("rows")[0];
        Assert.Equal((2.7, "ohm", "2.7 ohm"), (loop.GetProperty("parts").GetProperty("value").GetDouble(), loop.GetProperty("parts").GetProperty("unit").GetString(), loop.GetProperty("parts").GetProperty("text").GetString()));
        Assert.Equal(11, json.GetProperty("general").GetProperty("pulses").GetProperty("rows").GetArrayLength());
        Assert.Contains("| belt-loop | 2 to 3.2 ohm | 2.7 ohm |", markdown);
        Assert.Contains("# Bench: seat-occupancy", markdown);
        Assert.Contains("> **Caution:** Restraint loops", markdown);
        Assert.Equal(2, json.GetProperty("modules").GetArrayLength());
    }

    [Fact]
    public void A_sheet_goes_to_a_file_as_a_whole()
    {
        using var folder = new TempFolder();
        var (code, output, error) = CommandLine.Run("bench", s_demo, "--format", "markdown", "--out", folder.Path("sub", "bench.md"));

        Assert.Equal((0, ""), (code, output));
        Assert.Contains("bench of 7 modules written", error);
        Assert.Equal(CommandLine.Run("bench", s_demo, "--format", "markdown").Output, File.ReadAllText(folder.Path("sub", "bench.md")));
    }

    [Fact]
    public void What_does_not_hold_is_a_finding()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("lamp.yaml"), """
            locum: 1
            module: lamp
            hazard: none
            buses: {body: {rate: 1 Mbit/s}}
            frames: {F: {id: 0x100, length: 1, every: 100 ms}}
            bench:
              loads: {lamp: {stages: [{current: 10 A}], wire: {length: 20 m, section: 0.35 mm2}}}
              hold-up: {current: 80 mA, dip: {to: 4.5 V, for: 100 ms}, lowest: 5.5 V, fitted: 100 uF}
              buses: {body: {terminations: {a: , b: }, stand-in: 120 ohm, stub: 1 m, length: 60 m}}
            """);
        var (code, output, error) = CommandLine.Run("bench", folder.Path("lamp.yaml"));

        Assert.Equal(1, code);
        Assert.All(["does not hold", "burns before its fuse", "loses", "the fitted 100 uF", "40 ohm instead of 60", "the stub on body", "longer than 25 m"], t => Assert.Contains(t, output));
        Assert.All(["LC1607", "LC1608", "LC1609"], c => Assert.Contains(c, error));
    }

    [Fact]
    public void Names_of_a_description_are_no_markup_and_no_terminal_codes()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("lamp.yaml"), """
            locum: 1
            module: lamp
            hazard: none
            buses: {body: {rate: 1 Mbit/s}}
            frames: {F: {id: 0x100, length: 1, every: 100 ms}}
            bench:
              buses: {body: {terminations: {"x|y\e[31m": , "<b>": }}}
              connector: {type: "a\nb", pins: {"1|": {signal: "supply with a name that is much longer than the room that a line of a terminal has for it, without end"}}}
            """);
        var text = CommandLine.Run("bench", folder.Path("lamp.yaml")).Output;
        var markdown = CommandLine.Run("bench", folder.Path("lamp.yaml"), "--format", "markdown").Output;

        Assert.DoesNotContain('\e', text + markdown);
        Assert.All(text.Split('\n'), l => Assert.InRange(l.Length, 0, 80));
        Assert.Contains(@"x\|y·\[31m, \<b\>", markdown);
        Assert.Contains(@"| 1\| |", markdown);
    }

    [Theory]
    [InlineData("LC0101", "bench", "no-such-file.yaml")]
    [InlineData("LC0901", "bench", "DEMO", "--board", "nowhere")]
    [InlineData("--format", "bench", "DEMO", "--format", "xml")]
    public void Bad_input_has_a_clear_error(string expected, params string[] arguments)
    {
        var (code, output, error) = CommandLine.Run([.. arguments.Select(a => a is "DEMO" ? s_demo : a)]);

        Assert.Equal(2, code);
        Assert.Contains(expected, output + error);
    }
}
