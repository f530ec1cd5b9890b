using System.Text.Json;
using Xunit;

namespace Locum.Tests.Unit.Cli;

/// <summary>Commands as a user sees them: exit codes, what goes where, what is left behind.</summary>
public sealed class ApplicationTests
{
    private static readonly string s_demo = RepoRoot.Path("projects", "depot-loco");

    [Fact]
    public void Check_of_the_demo_is_fine_and_repeats_the_cautions()
    {
        var (code, output, error) = CommandLine.Run("check", s_demo);
        Assert.Equal((0, ""), (code, error));
        Assert.Contains("no findings", output, StringComparison.Ordinal);
        Assert.Contains("BRAKING", output, StringComparison.Ordinal);
        Assert.All(output.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Theory]
    [InlineData(2, "check", "no-such-file.yaml")]
    [InlineData(2, "check")]
    [InlineData(2, "no-such-command")]
    [InlineData(2, "simulate", "no-such-file.yaml")]
    [InlineData(2, "simulate", "DEMO", "--board", "no-such-board")]
    [InlineData(2, "simulate", "DEMO", "--for", "5")]
    [InlineData(2, "simulate", "DEMO", "--format", "xml")]
    [InlineData(2, "simulate", "DEMO", "--stimulus", "no-such-file.yaml")]
    [InlineData(2, "generate", "no-such-file.yaml")]
    [InlineData(2, "prove", "no-such-file.yaml")]
    [InlineData(0, "boards")]
    [InlineData(0, "check", "--help")]
    public void Exit_codes(int expected, params string[] arguments)
    {
        var (code, output, error) = CommandLine.Run([.. arguments.Select(a => a is "DEMO" ? s_demo : a)]);
        Assert.Equal(expected, code);
        Assert.DoesNotContain("   at ", output + error, StringComparison.Ordinal);
        if (expected is not 0)
            Assert.NotEqual("", error + output);
    }

    [Fact]
    public void Findings_give_exit_code_1_in_every_format()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("bad.yaml"), "locum: 1\nmodule: x\nhazard: none\nbuses: {b: {rate: 500 kbit/s}}\nframes: {F: {id: 1, length: 1, every: 10 ms, colour: red}}\n");
        foreach (var format in new[] { "text", "json", "sarif" })
        {
            var (code, output, _) = CommandLine.Run("check", folder.Path("bad.yaml"), "--format", format);
            Assert.Equal(1, code);
            Assert.Contains("LC0202", output, StringComparison.Ordinal);
            if (format is not "text")
                JsonDocument.Parse(output).Dispose();
        }
    }

    [Fact]
    public void Simulate_prints_a_summary_within_80_columns()
    {
        var (code, output, error) = CommandLine.Run("simulate", s_demo, "--board", "floor");
        Assert.Equal((0, ""), (code, error));
        Assert.Contains("PumpLeft", output, StringComparison.Ordinal);
        Assert.Contains("bus load, 250 kbit/s", output, StringComparison.Ordinal);
        Assert.All(output.Split('\n'), line => Assert.True(line.TrimEnd().Length <= 80, line));
    }

    [Theory]
    [InlineData("csv")]
    [InlineData("json")]
    [InlineData("text")]
    public void Every_trace_format_lists_the_same_frames(string format)
    {
        var (code, output, _) = CommandLine.Run("simulate", s_demo, "--board", "cab", "--for", "1 s", "--format", format, "--trace");
        Assert.Equal(0, code);
        // HeatStatus starts 409 + 20 + 7 ms after power-on and comes every 20 ms: 29 times until 1 s.
        var lines = output.Split('\n').Count(l => l.Contains("HeatStatus", StringComparison.Ordinal) && !l.StartsWith("HeatStatus", StringComparison.Ordinal));
        Assert.Equal(29, lines);
    }

    [Fact]
    public void Simulated_pcapng_opens_in_tshark_with_identical_content()
    {
        using var folder = new TempFolder();
        var file = folder.Path("a trace.pcapng");
        var (code, _, error) = CommandLine.Run("simulate", s_demo, "--board", "floor", "--for", "3 s", "--out", file);
        Assert.Equal(0, code);
        Assert.Contains("frames written", error, StringComparison.Ordinal);
        var seen = Shell.Must("tshark", ["-r", file, "-d", "can.subdissector,data", "-T", "fields", "-e", "frame.time_epoch", "-e", "can.id", "-e", "data.data"]).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        var (_, json, _) = CommandLine.Run("simulate", s_demo, "--board", "floor", "--for", "3 s", "--format", "json");
        var frames = json.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonDocument.Parse(l).RootElement).ToList();
        Assert.Equal(frames.Count, seen.Length);
        foreach (var (line, frame) in seen.Zip(frames))
        {
            var columns = line.Split('\t');
            Assert.Equal(frame.GetProperty("end_us").GetInt64() / 1e6, double.Parse(columns[0]), 6);
            Assert.Equal(Convert.ToUInt32(frame.GetProperty("id").GetString(), 16), uint.Parse(columns[1]));
            Assert.Equal(frame.GetProperty("data").GetString()!.Replace(" ", "", StringComparison.Ordinal).ToLowerInvariant(), columns[2]);
        }
    }

    [Fact]
    public void Generate_twice_gives_the_same_bytes_and_replaces_only_its_own_output()
    {
        using var folder = new TempFolder();
        Assert.Equal(0, CommandLine.Run("generate", s_demo, "--out", folder.Path("one")).Code);
        Assert.Equal(0, CommandLine.Run("generate", s_demo, "--out", folder.Path("two")).Code);
        Assert.Equal(0, CommandLine.Run("generate", s_demo, "--out", folder.Path("two")).Code);
        var files = Directory.GetFiles(folder.Path("one"), "*", SearchOption.AllDirectories);
        Assert.True(files.Length > 60);
        foreach (var file in files)
            Assert.Equal(File.ReadAllBytes(file), File.ReadAllBytes(file.Replace(folder.Path("one"), folder.Path("two"), StringComparison.Ordinal)));
        Directory.CreateDirectory(folder.Path("mine", "cab"));
        File.WriteAllText(folder.Path("mine", "cab", "letter.txt"), "dear");
        var (code, _, error) = CommandLine.Run("generate", s_demo, "--out", folder.Path("mine"));
        Assert.Equal(2, code);
        Assert.Contains("did not write", error, StringComparison.Ordinal);
        Assert.Equal(["letter.txt"], Directory.GetFileSystemEntries(folder.Path("mine", "cab")).Select(Path.GetFileName));
    }

    [Fact]
    public void Unwritable_output_leaves_nothing_behind()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("file"), "");
        var (code, _, error) = CommandLine.Run("generate", s_demo, "--out", folder.Path("file"));
        Assert.Equal(2, code);
        Assert.NotEqual("", error);
        var trace = CommandLine.Run("simulate", s_demo, "--board", "cab", "--out", folder.Path("file", "x.csv"));
        Assert.Equal(2, trace.Code);
        Assert.Equal(["file"], Directory.GetFileSystemEntries(folder.Path()).Select(Path.GetFileName));
    }

    [Fact]
    public void Errors_in_a_description_stop_generation_before_anything_is_written()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("bad.yaml"), "locum: 1\nmodule: x\n");
        var (code, output, error) = CommandLine.Run("generate", folder.Path("bad.yaml"), "--out", folder.Path("out"));
        Assert.Equal((2, ""), (code, output));
        Assert.Contains("LC0203", error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(folder.Path("out")));
    }

    [Fact]
    public void All_ends_with_a_proof_of_every_board()
    {
        using var folder = new TempFolder();
        var (code, output, error) = CommandLine.Run("all", s_demo, "--out", folder.Path("out"));
        Assert.Equal(0, code);
        foreach (var board in new[] { "cab", "floor", "bogie" })
        {
            Assert.Contains($"{board}: equal, ", output, StringComparison.Ordinal);
            Assert.True(File.Exists(folder.Path("out", board, "Makefile")));
        }
        Assert.Contains("BRAKING", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_generated_c_file_names_its_description_its_hash_the_version_and_the_cautions()
    {
        using var folder = new TempFolder();
        Assert.Equal(0, CommandLine.Run("generate", s_demo, "--board", "bogie", "--out", folder.Path()).Code);
        var hash = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(Path.Combine(s_demo, "wheel-slip.yaml"))));
        foreach (var file in new[] { "module_wheel_slip.c", "module_wheel_slip.h", "locum_tables.c", "locum_tables.h" })
        {
            var text = File.ReadAllText(folder.Path("bogie", file));
            foreach (var part in new[] { "wheel-slip.yaml", hash, "Locum 0.", "BRAKING", "Acknowledged", "licensed practice" })
                Assert.Contains(part, text, StringComparison.Ordinal);
        }
    }
}
