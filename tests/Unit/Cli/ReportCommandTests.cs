using Locum.Tests.Unit.Pages;
using Xunit;

namespace Locum.Tests.Unit.Cli;

public sealed class ReportCommandTests
{
    private static readonly string s_captures = RepoRoot.Path("projects", "depot-loco", "captures");

    [Fact]
    public void The_same_project_gives_the_same_bytes()
    {
        using var folder = new TempFolder();
        var first = File.ReadAllBytes(Samples.ReportOf(folder, "first", RepoRoot.Path("projects", "depot-loco")));
        Assert.Equal(first, File.ReadAllBytes(Samples.ReportOf(folder, "second", RepoRoot.Path("projects", "depot-loco"))));
    }

    [Fact]
    public void All_parts_of_the_demo_are_told()
    {
        using var folder = new TempFolder();
        var page = File.ReadAllText(Samples.ReportOf(folder, "page", RepoRoot.Path("projects", "depot-loco"), "--board", "cab", "--title", "Cab & heat",
            "--stimulus", Path.Combine(s_captures, "in-1.stimulus.yaml"), "--capture", Path.Combine(s_captures, "out-1.pcapng"), "--audit", Path.Combine(s_captures, "out-1.pcapng"), "--original", Path.Combine(s_captures, "in-1.pcapng")));
        foreach (var id in new[] { "cautions", "overview", "timeline", "frames", "modes", "load", "audit", "boards", "sources" })
            Assert.Contains($"<section id=\"{id}\"", page, StringComparison.Ordinal);
        Assert.Contains("<h1>Cab &amp; heat</h1>", page, StringComparison.Ordinal);
        Assert.Contains("module cab-heat: never sent", page, StringComparison.Ordinal);
        Assert.Contains("none of its 3 frames is in the capture", page, StringComparison.Ordinal);
        Assert.Contains("run-line active", page, StringComparison.Ordinal);
        Assert.Contains("checksum: rule crc8-sae-j1850", page, StringComparison.Ordinal);
        Assert.DoesNotContain("lift-pump.PumpLeft", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Evidence_of_a_draft_stands_beside_its_field()
    {
        using var folder = new TempFolder();
        var draft = folder.Path("heater.yaml");
        Assert.Equal(0, CommandLine.Run("draft", Path.Combine(s_captures, "in-1.pcapng"), Path.Combine(s_captures, "in-2.pcapng"), "--without", Path.Combine(s_captures, "out-1.pcapng"), "--rate", "500k", "--out", draft).Code);
        var page = File.ReadAllText(Samples.ReportOf(folder, "heater", draft));
        var row = page.Split('\n').Single(l => l.Contains("</span>check-56</th>", StringComparison.Ordinal));
        Assert.Contains("<q>certain: 448 frames, none against;", row, StringComparison.Ordinal);
        var frame = page.Split('\n').First(l => l.Contains("<dt>evidence</dt>", StringComparison.Ordinal));
        Assert.Contains("0x2D1: 448 frames, the first", frame, StringComparison.Ordinal);
        Assert.Contains("every", frame, StringComparison.Ordinal);
        Assert.Contains("<em># certain: 446 gaps, none against; mean 20 ms, jitter 248 us</em>", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Findings_and_errors_leave_an_older_page_alone()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("bad.yaml"), "locum: 1\nmodule: bad\nhazard: none\nbuses: {body: {rate: 500 kbit/s}}\nframes: {F: {id: 0x100, length: 99, every: 20 ms}}\n");
        File.WriteAllText(folder.Path("page.html"), "old");
        var (code, output, error) = CommandLine.Run("report", folder.Path("bad.yaml"), "--out", folder.Path("page.html"));
        Assert.Equal((2, ""), (code, output));
        Assert.Contains("bad.yaml:5:", error, StringComparison.Ordinal);
        Assert.Equal("old", File.ReadAllText(folder.Path("page.html")));
        Assert.Equal(2, Directory.GetFiles(folder.Path()).Length);
    }

    [Fact]
    public void Options_that_do_not_fit_are_told()
    {
        using var folder = new TempFolder();
        var demo = RepoRoot.Path("projects", "depot-loco");
        var (code, _, error) = CommandLine.Run("report", demo, "--out", folder.Path("a.html"), "--original", Path.Combine(s_captures, "in-1.pcapng"));
        Assert.Equal(2, code);
        Assert.Contains("--original needs --audit", error, StringComparison.Ordinal);
        Assert.Equal(2, CommandLine.Run("report", demo).Code);
        File.WriteAllText(folder.Path("empty.log"), "");
        Assert.Equal(2, CommandLine.Run("report", demo, "--out", folder.Path("a.html"), "--audit", folder.Path("empty.log")).Code);
        Assert.False(File.Exists(folder.Path("a.html")));
    }

    [Fact]
    public void A_warning_of_the_check_is_on_the_page_with_its_mend()
    {
        using var folder = new TempFolder();
        var page = File.ReadAllText(Samples.Report(folder, "warned", "locum: 1\nmodule: warned\nhazard: none\nbuses: {body: {rate: 500 kbit/s}}\nmodes: {run: {}, never: {}}\nframes: {F: {id: 0x100, length: 1, every: 20 ms}}\n"));
        Assert.Contains("<section id=\"check\"", page, StringComparison.Ordinal);
        Assert.Matches("<h3>warning [A-Z]+[0-9]+</h3>\\s*<p>[^<]*never", page);
    }
}
