using Locum.Inference;
using Locum.Inference.Starting;
using Locum.Inference.Timing;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Synthetic starts of a module.</summary>
public sealed class StartTests
{
    [Fact]
    public void A_module_that_begins_later_than_the_bus_shows_its_start()
    {
        var module = Find(Bus().Every(0x100, 200, 20_000, _ => [1], 436_000));

        Assert.Equal((true, 436_000L), (module.Start.Seen, module.Start.TimeUs));
    }

    [Fact]
    public void A_recording_that_begins_in_the_middle_shows_none()
    {
        var module = Find(Bus().Every(0x100, 400, 20_000, _ => [1], 13_000));

        Assert.False(module.Start.Seen);
        Assert.Empty(module.Phases.EndsUs);
    }

    [Fact]
    public void Every_wake_is_a_start()
    {
        var module = Find(Bus().Every(0x100, 50, 20_000, _ => [1], 500_000).Every(0x100, 50, 20_000, _ => [1], 4_000_000));

        Assert.Equal([500_000L, 4_000_000], module.Starts.Select(s => s.TimeUs));
        Assert.All(module.Starts, s => Assert.True(s.Seen));
    }

    // A state changes and a frame begins in the same stage: one end explains both.
    [Fact]
    public void What_changes_at_once_ends_one_stage()
    {
        var module = Find(Bus()
            .Every(0x100, 200, 20_000, i => [(byte)(i < 6 ? 1 : 4)], 436_000)
            .Every(0x101, 40, 100_000, _ => [9], 562_000));

        long end = Assert.Single(module.Phases.EndsUs);
        Assert.InRange(end, 100_001, 120_000);
        Assert.Equal(Confidence.Possible, module.Phases.Evidence[0].Confidence);
        Assert.Equal((0, 1), (module.Phases.At(end - 1), module.Phases.At(end)));
    }

    [Fact]
    public void The_same_stage_at_several_starts_is_likelier()
    {
        var frames = Bus(30_000);
        for (int start = 0; start < 5; start++)
            frames.Every(0x100, 100, 20_000, i => [(byte)(i < 6 ? 1 : 4)], 500_000 + (start * 5_000_000));
        var module = Find(frames);

        Assert.Equal((5, Confidence.Likely), (module.Starts.Count, module.Phases.Evidence[0].Confidence.AtMost(Confidence.Likely)));
    }

    private static Synthetic Bus(int ms = 9_000) => new Synthetic().Every(0x050, ms / 10, 10_000, _ => [0]);

    private static ModuleFindings Find(Synthetic frames)
    {
        var recording = frames.Record();
        return ModuleInference.Find(recording, [.. recording.Series.Where(s => s.Id.Value is 0x100 or 0x101)]);
    }
}
