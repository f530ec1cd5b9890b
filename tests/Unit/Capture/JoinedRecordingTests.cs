using Locum.Capture;
using Locum.Tests.Unit.Inference;
using Xunit;

namespace Locum.Tests.Unit.Capture;

/// <summary>Several synthetic recordings as one.</summary>
public sealed class JoinedRecordingTests
{
    [Fact]
    public void Parts_stay_apart_and_frames_keep_their_distances()
    {
        var a = new Synthetic().Every(0x100, 10, 20_000, i => [(byte)i]).AddOn("drive", 5_000, 0x200, [7]).Record();
        var b = new Synthetic().Every(0x100, 5, 20_000, i => [(byte)(100 + i)], 50_000).Record();
        var joined = JoinedRecording.Of([a, b]);

        Assert.Equal(["body", "drive"], joined.Buses);
        Assert.Equal([11L, 5], joined.Parts.Select(p => p.Frames));
        Assert.Equal([180_000L, 80_000], joined.Parts.Select(p => p.DurationUs));
        var series = joined.Series.Single(s => s.Id.Value is 0x100);
        Assert.Equal([10, 5], series.Runs.Select(r => r.Count));
        Assert.Equal(20_000, series.TimesUs[11] - series.TimesUs[10]);
        Assert.Equal(104, series.Data(14)[0]);
    }

    [Fact]
    public void A_recording_with_breaks_keeps_them()
    {
        var broken = new Synthetic().Every(0x100, 3, 20_000, _ => [1]).Every(0x100, 3, 20_000, _ => [1], 2e9).Record();
        var joined = JoinedRecording.Of([broken, broken]);

        Assert.Equal(4, joined.Parts.Count);
        Assert.All(joined.Parts, p => Assert.Equal((3L, 40_000L), (p.Frames, p.DurationUs)));
    }
}
