using Locum.Reviewing;
using Locum.Tests.Unit.Cli;
using Xunit;

namespace Locum.Tests.Unit.Reviewing;

/// <summary>What differs between two stimuli, and between those of two projects.</summary>
public sealed class StimulusReviewTests
{
    private const string Valid = """
        locum: 1
        stimulus: a cold morning
        for: 12 s
        inputs:
          run-line:
            - {at: 400 ms, level: active}
            - {at: 6 s, level: inactive}
        traffic:
          body:
            - {id: 0x0C4, every: 10 ms, offset: 0 ms, until: 5 s, data: 10 27 00 00}
            - {id: 0x7E0, at: 2 s, data: 03 22 F1 90}
            - {id: 0x155, every: 20 ms, data: 00 A0, changes: [{at: 2 s, data: 00 FF}]}
        blocked:
          body: [{from: 7 s, until: 7.1 s}]
        stalls: [{from: 8 s, until: 8.05 s}]
        bus off: {body: [9 s, 9.5 s]}
        resets: [{at: 10 s, cause: watchdog}]
        clock: 0xFFFFFF00
        """;

    [Theory]
    [InlineData("a cold morning", "a warm one", "renamed from a cold morning")]
    [InlineData("for: 12 s", "for: 13 s", "for: 12 s → 13 s")]
    [InlineData("clock: 0xFFFFFF00", "clock: 7", "clock: 0xFFFFFF00 → 0x00000007")]
    [InlineData("level: inactive", "level: active", "input run-line / at 6 s: inactive → active")]
    [InlineData("{at: 6 s,", "{at: 6.5 s,", "input run-line / at 6 s: inactive → none|input run-line / at 6500 ms: none → inactive")]
    [InlineData("inputs:\n", "inputs:\n  door: [{at: 1 s, level: active}]\n", "input door / at 1 s: none → active")]
    [InlineData("every: 10 ms", "every: 11 ms", "bus body / frame 0x0C4 / from 0 ms: 10 27 00 00, every 10 ms, until 5 s → 10 27 00 00, every 11 ms, until 5 s")]
    [InlineData("until: 5 s, ", "", "bus body / frame 0x0C4 / from 0 ms: 10 27 00 00, every 10 ms, until 5 s → 10 27 00 00, every 10 ms")]
    [InlineData("until: 5 s, ", "until: 5 s, format: fd, ", "bus body / frame 0x0C4 / from 0 ms: 10 27 00 00, every 10 ms, until 5 s → 10 27 00 00, fd-switched, every 10 ms, until 5 s")]
    [InlineData("data: 03 22 F1 90", "data: 02 3E 00", "bus body / frame 0x7E0 / at 2 s: 03 22 F1 90 → 02 3E 00")]
    [InlineData("00 FF", "00 FE", "bus body / frame 0x155 / from 2 s: 00 FF, every 20 ms → 00 FE, every 20 ms")]
    [InlineData("id: 0x7E0", "id: 0x7E1", "bus body / frame 0x7E0: removed (once)|bus body / frame 0x7E1: added (once)")]
    [InlineData("traffic:\n", "traffic:\n  seat: [{id: 1, every: 1 s}, {id: 1, every: 2 s}]\n", "bus seat / frame 0x001: added (every 1 s)")]
    [InlineData("    - {id: 0x7E0, at: 2 s, data: 03 22 F1 90}", "    - {id: 0x7E0, at: 2 s, data: 03 22 F1 90}\n    - {id: 0x7E0, at: 2 s, data: 01}", "bus body / frame 0x7E0 / at 2 s (2): none → 01")]
    [InlineData("until: 7.1 s", "until: 7.2 s", "bus body / blocked from 7 s: until 7100 ms → until 7200 ms")]
    [InlineData("until: 8.05 s", "until: 9 s", "stall from 8 s: until 8050 ms → until 9 s")]
    [InlineData("9 s, 9.5 s", "9 s", "bus body / bus-off at 9500 ms: yes → no")]
    [InlineData("cause: watchdog", "cause: brown-out", "reset at 10 s: watchdog → brown-out")]
    [InlineData("{at: 10 s, cause: watchdog}", "{at: 3 s, cause: power}, {at: 10 s, cause: watchdog}", "reset at 3 s: none → power")]
    public void One_change_is_told(string old, string now, string expected)
    {
        Assert.Contains(old, Valid, StringComparison.Ordinal);
        var review = Reviews.Of(Valid, Valid.Replace(old, now, StringComparison.Ordinal));
        Assert.All(review.Changes, c => Assert.StartsWith("stimulus ", c.Path[0], StringComparison.Ordinal));
        Assert.Equal(expected.Split('|').Order(), review.Changes.Select(Told).Order());
        Assert.Empty(review.Effects);
    }

    // What a frame does behind the end of the run means nothing, and 'until' the end is what is usual.
    [Theory]
    [InlineData("for: 12 s", "for: 0.2 min")]
    [InlineData("id: 0x155, every: 20 ms,", "id: 0x155, every: 20 ms, until: 12 s,")]
    [InlineData("id: 0x155, every: 20 ms,", "id: 341, every: 20000 us, offset: 0 ms,")]
    [InlineData("id: 0x7E0, at: 2 s,", "id: 0x7E0, every: 11 s, offset: 2 s,")]
    public void Another_way_to_say_the_same_is_no_difference(string old, string now)
    {
        Assert.Contains(old, Valid, StringComparison.Ordinal);
        Assert.Empty(Reviews.Of(Valid, Valid.Replace(old, now, StringComparison.Ordinal)).Changes);
    }

    [Fact]
    public void Text_json_and_markdown_tell_stimuli_and_a_description_is_none()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.yaml"), Valid);
        File.WriteAllText(folder.Path("b.yaml"), Valid.Replace("03 22 F1 90", "02 3E 00", StringComparison.Ordinal));
        File.WriteAllText(folder.Path("m.yaml"), Reviews.Valid);
        Assert.Equal((0, "", ""), CommandLine.Run("diff", folder.Path("a.yaml"), folder.Path("a.yaml")));
        Assert.Equal((1, "stimulus a cold morning\n  bus body\n    frame 0x7E0\n      at 2 s: 03 22 F1 90 → 02 3E 00\n", ""),
            CommandLine.Run("diff", folder.Path("a.yaml"), folder.Path("b.yaml")));
        Assert.Contains("| stimulus a cold morning / bus body / frame 0x7E0 | at 2 s | 03 22 F1 90 | 02 3E 00 |",
            CommandLine.Run("diff", folder.Path("a.yaml"), folder.Path("b.yaml"), "--format", "markdown").Output, StringComparison.Ordinal);
        Assert.Contains("\"label\": \"at 2 s\"", CommandLine.Run("diff", folder.Path("a.yaml"), folder.Path("b.yaml"), "--format", "json").Output, StringComparison.Ordinal);
        var (code, output, error) = CommandLine.Run("diff", folder.Path("m.yaml"), folder.Path("a.yaml"));
        Assert.Equal((2, ""), (code, output));
        Assert.Contains($"'{folder.Path("a.yaml")}' is a stimulus and the other is none\n  mend:", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Boards_are_told_what_their_stimuli_do_differently_once_and_in_the_newer_names()
    {
        using var folder = new TempFolder();
        foreach (var side in new[] { "old", "new" })
        {
            Directory.CreateDirectory(folder.Path(side));
            var (bus, name) = side is "old" ? ("body", "day.yaml") : ("trunk", "night.yaml");
            foreach (var module in new[] { "seat", "bench" })
                File.WriteAllText(folder.Path(side, $"{module}.yaml"), Reviews.Valid.Replace("module: seat", $"module: {module}", StringComparison.Ordinal).Replace("body", bus, StringComparison.Ordinal));
            File.WriteAllText(folder.Path(side, name), Valid.Replace("body:", $"{bus}:", StringComparison.Ordinal).Replace("for: 12 s", side is "old" ? "for: 12 s" : "for: 14 s", StringComparison.Ordinal));
            File.WriteAllText(folder.Path(side, "project.yaml"), $"locum: 1\nproject: p\nboards:\n  one: {{board: pc, modules: [seat.yaml], stimulus: {name}}}\n  two: {{board: pc, modules: [bench.yaml], stimulus: {name}}}\n");
        }
        var review = Review.Of(Reviews.Load(folder.Path("old")), Reviews.Load(folder.Path("new")));
        Assert.Equal(["stimulus a cold morning / for: 12 s → 14 s"], review.Changes.Where(c => c.Path[0].StartsWith("stimulus", StringComparison.Ordinal)).Select(c => $"{c.Path[0]} / {Told(c)}"));
        Assert.Equal(2, review.Changes.Count(c => c is { Label: "stimulus", Before: "day.yaml", After: "night.yaml" }));
    }

    private static string Told(Change change)
    {
        var path = string.Concat(change.Path.Skip(1).Select(p => p + " / "));
        return change.Label.Length > 0 ? $"{path}{change.Label}: {change.Before ?? "none"} → {change.After ?? "none"}"
            : change.Kind is ChangeKind.Renamed ? $"renamed from {change.Before}"
            : $"{path.TrimEnd(' ', '/')}: {change.Kind.ToString().ToLowerInvariant()} ({change.After ?? change.Before})";
    }
}
