using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules 7 to 9: releases. The frame 0x000 without data has 50 bits (shared/vectors/can-frames.json), 1 µs each.</summary>
public sealed class ReleaseRuleTests
{
    private const string Bus = "buses: {b: {rate: 1 Mbit/s}}\n";

    private const string Plain = Bus + "frames: {A: {id: 0, length: 0, every: 1 ms}}\n";

    [Fact]
    public void Rule_7_releases_do_not_drift() =>
        new Scenario(Bus + "frames: {A: {id: 0, length: 0, every: 777 us, offset: 100 us}}", "for: 3 ms")
        {
            Frames = """
                100 0x000 - 100 150
                877 0x000 - 877 927
                1654 0x000 - 1654 1704
                2431 0x000 - 2431 2481
                """,
        }.Holds();

    // a and b send: the change at 1500 keeps the phase. c (3000 to 4000) does not. At 4000 it starts anew: 4200, 5200.
    [Fact]
    public void Rule_7_the_phase_is_kept_within_the_modes_that_send() =>
        new Scenario(Bus + """
            modes:
              a: {for: 1500 us, then: b}
              b: {for: 1500 us, then: c}
              c: {for: 1 ms, then: a}
            frames: {A: {id: 0, length: 0, every: 1 ms, offset: 200 us, in: [a, b]}}
            """, "for: 5300 us")
        {
            Modes = "1500 b\n3000 c\n4000 a",
            Frames = """
                200 0x000 - 200 250
                1200 0x000 - 1200 1250
                2200 0x000 - 2200 2250
                4200 0x000 - 4200 4250
                5200 0x000 - 5200 5250
                """,
            // At 5500 b would begin; the run ends before.
        }.Holds();

    // Stalled from 1500 to 4500: of the releases 2000, 3000, 4000 the newest is sent at 4500, two are skipped,
    // and the next comes at 5000 as ever.
    [Fact]
    public void Rule_8_a_late_board_sends_once_and_counts_what_it_missed() =>
        new Scenario(Plain, "for: 5500 us\nstalls: [{from: 1500 us, until: 4500 us}]")
        {
            Frames = """
                0 0x000 - 0 50
                1000 0x000 - 1000 1050
                4500 0x000 - 4500 4550
                5000 0x000 - 5000 5050
                """,
            Skipped = "A 2",
        }.Holds();

    // A stall that ends exactly at a release costs only those before it.
    [Fact]
    public void Rule_8_a_release_at_the_end_of_a_stall_is_on_time() =>
        new Scenario(Plain, "for: 4500 us\nstalls: [{from: 1 ms, until: 4 ms}]")
        {
            Frames = "0 0x000 - 0 50\n4000 0x000 - 4000 4050",
            Skipped = "A 3",
        }.Holds();

    // Bus blocked from 500 to 3500. The release of 1000 waits in a mailbox; that of 2000 is refused (same identifier)
    // and stays pending; that of 3000 replaces it: one skipped. At 3500 the first starts, at 3550 its mailbox is free and
    // the pending one is accepted; it starts 53 us after 3500.
    [Fact]
    public void Rule_8_a_frame_that_is_still_pending_is_replaced_and_counted() =>
        new Scenario(Plain, "for: 4500 us\nblocked: {b: {from: 500 us, until: 3500 us}}")
        {
            Frames = """
                0 0x000 - 0 50
                1000 0x000 - 3500 3550
                3550 0x000 - 3553 3603
                4000 0x000 - 4000 4050
                """,
            Skipped = "A 1",
        }.Holds();

    // Late and pending at once: pending from 2000, stalled from 2500 to 5500. Releases 3000, 4000, 5000: the newest stands
    // for itself, 3000 and 4000 are missed, and 2000 was still pending: three skipped.
    [Fact]
    public void Rule_8_missed_and_replaced_releases_add_up() =>
        new Scenario(Plain, "for: 5900 us\nblocked: {b: {from: 500 us, until: 5700 us}}\nstalls: [{from: 2500 us, until: 5500 us}]")
        {
            Frames = """
                0 0x000 - 0 50
                1000 0x000 - 5700 5750
                5750 0x000 - 5753 5803
                """,
            Skipped = "A 3",
        }.Holds();

    // Blocked from 500 to 3500. The mode ends at 2500: the release of 2000, still pending, is dropped and counted;
    // the one of 1000 is in a mailbox and leaves.
    [Fact]
    public void Rule_9_leaving_the_modes_drops_what_is_pending() =>
        new Scenario(Bus + """
            modes: {a: {for: 2500 us, then: b}, b: {}}
            frames: {A: {id: 0, length: 0, every: 1 ms, in: a}}
            """, "for: 4500 us\nblocked: {b: {from: 500 us, until: 3500 us}}")
        {
            Modes = "2500 b",
            Frames = "0 0x000 - 0 50\n1000 0x000 - 3500 3550",
            Skipped = "A 1",
        }.Holds();

    // Nothing is pending when the mode ends at 1500: nothing is skipped.
    [Fact]
    public void Rule_9_leaving_without_a_pending_frame_counts_nothing() =>
        new Scenario(Bus + """
            modes: {a: {for: 1500 us, then: b}, b: {}}
            frames: {A: {id: 0, length: 0, every: 1 ms, in: a}}
            """, "for: 4500 us") { Modes = "1500 b", Frames = "0 0x000 - 0 50\n1000 0x000 - 1000 1050" }.Holds();
}
