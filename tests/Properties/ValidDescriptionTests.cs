using Locum.Boards;
using Locum.Protection;
using Locum.Rendering;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>What holds for every valid description before any C compiler sees it.</summary>
public sealed class ValidDescriptionTests(ITestOutputHelper log)
{
    private const int Checked = 300;
    private const int Drawn = 600;
    private const int Rendered = 16;

    [Fact]
    public void Every_generated_description_is_accepted_and_can_be_simulated()
    {
        var frames = 0L;
        var skipped = 0L;
        var modes = 0L;
        Cases.Run(log, new DescriptionGen(), Checked, project =>
        {
            var loaded = project.Load();
            foreach (var stimulus in loaded.Stimuli)
            {
                var result = Simulator.Run([loaded.Plan], stimulus);
                frames += result.Frames.Count;
                skipped += result.Skipped[0].Sum();
                modes += result.Modes.Count;
            }
        });
        log.WriteLine($"{frames} frames, {skipped} skipped releases, {modes} mode changes");
        // A generator that draws only quiet boards would prove nothing.
        Assert.True(!Cases.Whole || (frames > 5_000 && skipped > 500 && modes > 500));
    }

    // A part of the language that is never drawn is never tried.
    [Fact]
    public void Every_part_of_the_language_is_drawn()
    {
        string[] wanted =
        [
            "id: any", "mask:", "timeout:", ": received", ": lost", "at least:", "below:", "{not:", "follow:", "gain:", "at most:", "delay:", "slew:",
            "{every: 3, from:", "ramp:", "then: back", "then: hold", "then: repeat", "noise:", "burst:", "every: {", "on:", "start: yes", "{mode:", "{input:", "{receive:", "{frame:", "change:",
            "after:", "repeat:", "spacing:", "gap:", "pages:", "payloads:", "formula:", "{rule: {formula:", "protect:", "format: fd", "switch rate: no", "rule: j1939-71",
            "diagnostics:", "functional:", "frame length:", "padding: none", "block size:", "separation:", "answer after:", ", after:", "sessions:", "reset: accept", "security: denied", "memory: empty", "identifiers:",
            "j1939:", ": {bytes:", ": {frame:",
            .. E2EProfile.All.Select(p => $"profile: {p.Name},"),
        ];
        var found = new HashSet<string>();
        Cases.Run(log, new DescriptionGen(), Drawn, project =>
        {
            foreach (var text in project.Modules)
                found.UnionWith(wanted.Where(w => text.Contains(w, StringComparison.Ordinal)));
        });
        Assert.True(!Cases.Whole || found.Count == wanted.Length, string.Join(", ", wanted.Except(found)));
    }

    [Fact]
    public void Rendering_twice_gives_the_same_bytes_on_every_board_that_fits()
    {
        var fits = BoardCatalogue.Names.ToDictionary(n => n, _ => 0);
        Cases.Run(log, new DescriptionGen(), Rendered, project =>
        {
            foreach (var kind in BoardCatalogue.Names)
            {
                // Read anew, so that nothing is shared between the two runs.
                var first = GeneratedProject.On(kind, project.Load().Use);
                var second = GeneratedProject.On(kind, project.Load().Use);
                Assert.Equal(first is null, second is null);
                if (first is null || second is null)
                    continue;
                fits[kind]++;
                Assert.Equal(FirmwareRenderer.Render(first, "drawn", "0").Select(Text), FirmwareRenderer.Render(second, "drawn", "0").Select(Text));
            }
        });
        log.WriteLine(string.Join(", ", fits.Select(f => $"{f.Key}: {f.Value}")));
        Assert.True(!Cases.Whole || fits.Values.All(v => v > 0));
    }

    // The folder that the texts were read from is another one each time; its name may not show.
    private static string Text(OutputFile file) => $"{file.Path}\n{file.Text}";
}
