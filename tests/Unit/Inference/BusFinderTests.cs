using Locum.Inference;
using Locum.Inference.Buses;
using Locum.Pipeline;
using Locum.Simulation;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Bit rates behind the simulator's frames, which follow ISO 11898-1 bit by bit.</summary>
public sealed class BusFinderTests
{
    [Theory]
    [InlineData("cab", 500_000)]
    [InlineData("bogie", 500_000)]
    public void Frames_right_behind_one_another_show_the_bit_rate(string board, int rate)
    {
        var found = Of(board, 1);

        Assert.Equal((rate, Confidence.Certain), (found.SeenRate, found.Evidence.Confidence));
        Assert.InRange(found.BitsPerSecond / rate, 0.05, 0.3);
    }

    [Fact]
    public void Rough_time_stamps_show_none() => Assert.Null(Of("cab", 1_000).SeenRate);

    private static BusFinding Of(string board, long stampUs)
    {
        var loaded = Loader.Load(RepoRoot.Path("projects", "depot-loco"));
        var frames = Simulator.Run([loaded.Plans.Single(p => p.Name == board)], loaded.Stimuli[board]).Frames
            .Where(f => f.EndUs >= 0).Select(f => f with { EndUs = f.EndUs / stampUs * stampUs });
        return BusFinder.Find(Synthetic.Of(frames), 0, (int)stampUs);
    }
}
