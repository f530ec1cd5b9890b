using Locum.Capture;
using Locum.Drafting;
using Locum.Inference;
using Locum.Pipeline;
using Locum.Simulation;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>The demo's frames as rough loggers would have kept them: the main facts must still come out.</summary>
public sealed class RoughCaptureTests
{
    public static TheoryData<string> Loggers => ["whole milliseconds", "clock 400 ppm fast", "every fortieth lost", "emptied every 25 ms", "all together, 6 s only"];

    [Theory]
    [MemberData(nameof(Loggers))]
    public void Period_counter_and_checksum_survive(string logger)
    {
        var findings = Find("cab", logger, 0x2D1);
        var frame = findings.Frames[0];

        Assert.Equal(20_000, frame.Sending.NominalUs);
        Assert.Contains(frame.Counters, c => c.Place == new FieldPlace(52, 4) && c.Rule.To is 14 && c.Confidence >= Confidence.Likely);
        Assert.Contains(frame.Checksums, c => c.FieldText().Contains("crc8-sae-j1850, over: 0..6, with: [id low byte]", StringComparison.Ordinal));
        Assert.NotNull(Drafter.Write(findings, new DraftOptions { Name = "rough", Source = "a simulation" }).Text);
    }

    [Theory]
    [MemberData(nameof(Loggers))]
    public void Slow_frames_and_bursts_survive(string logger)
    {
        var findings = Find("side", logger, 0x3B4, 0x3B5);

        Assert.Equal(200_000, findings.Frames[0].Sending.NominalUs);
        Assert.Contains(findings.Frames[0].Counters, c => c.Place == new FieldPlace(16, 4) && c.Rule is { From: 1, To: 15 });
        Assert.Equal(1_000_000, findings.Frames[1].Sending.NominalUs);
        if (logger is not ("emptied every 25 ms" or "every fortieth lost" or "all together, 6 s only"))
            Assert.Equal((10, 20_000L), (findings.Frames[1].Sending.BurstCount, findings.Frames[1].Sending.BurstUs));
    }

    private static ModuleFindings Find(string board, string logger, params uint[] ids)
    {
        var loaded = Loader.Load(RepoRoot.Path("projects", "depot-loco"));
        var frames = Simulator.Run([loaded.Plans.Single(p => p.Name == board)], loaded.Stimuli[board]).Frames.Where(f => f.EndUs >= 0).ToList();
        IEnumerable<SentFrame> kept = frames.Select((f, i) => (Frame: f, Number: i)).Where(f => logger is not ("every fortieth lost" or "all together, 6 s only") || f.Number % 40 != 13).Select(f => f.Frame)
            .Select(f => f with { EndUs = Stamp(f.EndUs, logger) });
        if (logger is "all together, 6 s only")
            kept = kept.Where(f => f.EndUs < 6_000_000);
        var recording = Synthetic.Of(kept);
        return ModuleInference.Find(recording, [.. recording.Series.Where(s => ids.Contains(s.Id.Value))]);
    }

    private static long Stamp(long us, string logger) => logger switch
    {
        "whole milliseconds" => us / 1_000 * 1_000,
        "clock 400 ppm fast" => us + (us / 2_500),
        "emptied every 25 ms" => ((us / 25_000) + 1) * 25_000,
        "all together, 6 s only" => (us + (us / 2_500)) / 1_000 * 1_000,
        _ => us,
    };
}
