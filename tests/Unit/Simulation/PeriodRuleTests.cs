using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules 22 and 23: periods by mode, bursts.</summary>
public sealed class PeriodRuleTests
{
    private const string Bus = "buses: {b: {rate: 1 Mbit/s}}\n";

    // a: 1000, b: 300. At 1500 the next release would have been 1300, so it is now. At 2500 it moves to 2400 + 1000,
    // at 4000 (3400 + 300 has passed) to 4000.
    [Fact]
    public void Rule_22_a_change_of_mode_moves_the_next_release() =>
        new Scenario(Bus + """
            modes: {a: {for: 1500 us, then: b}, b: {for: 1 ms, then: a}}
            frames: {A: {id: 0, length: 0, every: {a: 1 ms, b: 300 us}}}
            """, "for: 4650 us") { Modes = "1500 b\n2500 a\n4000 b", Frames = At(0, 1000, 1500, 1800, 2100, 2400, 3400, 4000, 4300, 4600) }.Holds();

    // The new distance counts from the last release: 1000 + 700, after the change at 1500.
    [Fact]
    public void Rule_22_the_new_distance_counts_from_the_last_release() =>
        new Scenario(Bus + """
            modes: {a: {for: 1500 us, then: b}, b: {}}
            frames: {A: {id: 0, length: 0, every: {a: 1 ms, other: 700 us}}}
            """, "for: 2800 us") { Modes = "1500 b", Frames = At(0, 1000, 1700, 2400) }.Holds();

    [Fact]
    public void Rule_22_the_first_release_does_not_move() =>
        new Scenario(Bus + """
            modes: {a: {for: 1500 us, then: b}, b: {}}
            frames: {A: {id: 0, length: 0, every: {a: 1 ms, b: 300 us}, offset: 2 ms}}
            """, "for: 2800 us") { Modes = "1500 b", Frames = At(2000, 2300, 2600) }.Holds();

    // Two short distances make three frames; the burst comes again when the frame starts again at 2500.
    [Fact]
    public void Rule_23_a_burst_sets_the_first_distances_after_every_start() =>
        new Scenario(Bus + """
            modes: {a: {for: 1500 us, then: b}, b: {for: 1 ms, then: a}}
            frames: {A: {id: 0, length: 0, every: 1 ms, burst: {first: 3, every: 200 us}, in: a}}
            """, "for: 3950 us") { Modes = "1500 b\n2500 a", Frames = At(0, 200, 400, 1400, 2500, 2700, 2900, 3900) }.Holds();

    // The change at 250 moves nothing; behind the burst the distance is that of b.
    [Fact]
    public void Rule_23_during_a_burst_the_mode_does_not_matter() =>
        new Scenario(Bus + """
            modes: {a: {for: 250 us, then: b}, b: {}}
            frames: {A: {id: 0, length: 0, every: {a: 1 ms, b: 500 us}, burst: {first: 3, every: 200 us}}}
            """, "for: 1500 us") { Modes = "250 b", Frames = At(0, 200, 400, 900, 1400) }.Holds();

    // Stalled from 100 to 1000: 200 and 400 (burst) and 900 are due; the newest counts.
    [Fact]
    public void Rule_23_a_late_board_works_through_the_burst() =>
        new Scenario(Bus + "frames: {A: {id: 0, length: 0, every: 500 us, burst: {first: 3, every: 200 us}}}", "for: 1500 us\nstalls: [{from: 100 us, until: 1 ms}]")
        { Frames = At(0, 1000, 1400), Skipped = "A 2" }.Holds();

    private static string At(params int[] times) => string.Join('\n', times.Select(t => $"{t} 0x000 - {t} {t + 50}"));
}
