using Locum.Auditing;
using Xunit;

namespace Locum.Tests.Unit.Auditing;

/// <summary>The least times between the modes of the demo's cab heat controller.</summary>
public sealed class ModePathsTests
{
    private const int Asleep = 0;
    private const int Waking = 1;
    private const int Running = 2;
    private const int AfterRun = 3;
    private const int Modes = 4;
    private const ulong Open = ulong.MaxValue;
    private const ulong Sending = 1 << Waking | 1 << Running | 1 << AfterRun;
    private const long Debounce = 20_000;

    private readonly ModePaths _paths = new(Pipeline.Loader.Load(RepoRoot.Path("projects", "depot-loco", "cab-heat.yaml")).Plans[0].Modules[0].Module);

    [Fact]
    public void A_modes_own_time_must_pass() => Assert.Equal(120_000, _paths.Reach(Asleep, Sending, 0, Open)[Running]);

    [Fact]
    public void An_input_that_is_not_seen_may_turn_at_once() => Assert.Equal(0, _paths.Reach(Running, Sending, 0, Open)[AfterRun]);

    [Fact]
    public void Falling_asleep_from_running_takes_the_after_run() => Assert.Equal(5_000_000, _paths.ToLeave(Running, Sending, 0, Open));

    [Fact]
    public void What_is_left_of_the_first_modes_time_counts() => Assert.Equal(700_000, _paths.ToLeave(AfterRun, Sending, 700_000, Open));

    // The run line goes off, settles, and needs its debounce to come on again.
    [Fact]
    public void There_and_back_by_one_input_takes_its_debounce() =>
        Assert.Equal(Debounce, _paths.Reach(Running, 1 << Running, 0, Open)[Modes + Running]);

    [Fact]
    public void Back_by_way_of_sleep_takes_after_run_and_waking() =>
        Assert.Equal(5_000_000 + 120_000, _paths.Reach(Running, Sending, 0, Open)[Modes + Running]);

    [Fact]
    public void A_way_that_is_closed_is_not_taken()
    {
        var off = _paths.Ways.Select((w, i) => (w, i)).Single(w => w.w.From == Running).i;
        Assert.Equal(ModePaths.Never, _paths.ToLeave(Running, Sending, 0, Open & ~(1UL << off)));
    }
}
