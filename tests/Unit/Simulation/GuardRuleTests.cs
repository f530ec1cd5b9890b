using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules G1 to G9: guards. 0x000 without data lasts 50 us, 0x014 with one byte 55 us at 1 Mbit/s (shared/vectors/can-frames.json).</summary>
public sealed class GuardRuleTests
{
    private const string Beat = """
        buses: {b: {rate: 1 Mbit/s}}
        frames: {A: {id: 0x014, length: 1, every: 1 ms, fields: {n: {bit: 0, bits: 8, counter: {start: 1}}}}}
        """;

    // The foreign frame has the board's identifier, starts at 1500 and ends at 1550 (no data, 50 bits and stuff bits aside).
    [Fact]
    public void Rule_G2_a_foreign_sender_silences_the_board_for_good() =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0, length: 0, every: 1 ms}}",
            "for: 9 ms\ntraffic: {b: {id: 0, every: 50 ms, offset: 1500 us}}")
        {
            Frames = "0 0x000 - 0 50\n1000 0x000 - 1000 1050",
            Silences = "1550 ForeignSender",
        }.Holds();

    [Fact]
    public void Rule_G2_other_identifiers_and_identifier_lengths_are_not_foreign() =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0, length: 0, every: 1 ms}}",
            "for: 2 ms\ntraffic: {b: [{id: 1, every: 50 ms, offset: 100 us}, {id: 0, id kind: 29 bit, every: 50 ms, offset: 400 us}]}")
        {
            Frames = "0 0x000 - 0 50\n1000 0x000 - 1000 1050\n2000 0x000 - - -",
        }.Holds();

    [Fact]
    public void Rule_G2_a_foreign_sender_may_be_ignored() =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0, length: 0, every: 1 ms}}",
            "for: 1500 us\ntraffic: {b: {id: 0, every: 50 ms, offset: 500 us}}")
        {
            Guards = "{foreign sender: ignore}",
            Frames = "0 0x000 - 0 50\n1000 0x000 - 1000 1050",
        }.Holds();

    // Blocked from the start. Three of the four frames are in mailboxes, the fourth is pending, when silence begins at 5 ms:
    // the three are taken back, the pending one and the ones it replaced (1 to 4 ms) are skipped; the releases from 5 ms on are not counted.
    [Fact]
    public void Rule_G1_what_waits_is_taken_back_and_what_is_pending_is_skipped() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            frames:
              A: {id: 1, length: 0, every: 90 ms}
              B: {id: 2, length: 0, every: 90 ms}
              C: {id: 3, length: 0, every: 90 ms}
              D: {id: 4, length: 0, every: 1 ms}
            """, "for: 9 ms\nblocked: {b: {from: 0 s, until: 7 ms}}")
        {
            Guards = "{run at most: 5 ms}",
            Frames = "0 0x001 - - -\n0 0x002 - - -\n0 0x003 - - -",
            Silences = "5000 RunTime",
            Skipped = "D 5",
        }.Holds();

    // Off at 1500, back at 4500; 1408 us of recovery; n stands still meanwhile, the phase does not. The frame accepted at 5000 waits until 5908.
    [Fact]
    public void Rule_G3_the_board_comes_back_after_the_pause() =>
        new Scenario(Beat, "for: 7500 us\nbus off: {b: 1500 us}")
        {
            Guards = "{bus off: {recoveries: 1, within: 60 s, wait: 3 ms}}",
            Frames = """
                0 0x014 01 0 *
                1000 0x014 02 1000 *
                5000 0x014 03 5908 *
                6000 0x014 04 * *
                7000 0x014 05 7000 *
                """,
        }.Holds();

    // The first one is counted from 500 to 10500, so the second one at 9 ms is one too many; it is not when the time is over.
    [Theory]
    [InlineData("10 ms", "9000 BusOff")]
    [InlineData("8 ms", "")]
    public void Rule_G3_too_many_bus_offs_within_the_time_silence_the_board(string within, string silences) =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0, length: 0, every: 90 ms}}", "for: 20 ms\nbus off: {b: [500 us, 9 ms]}")
        {
            Guards = $"{{bus off: {{recoveries: 1, within: {within}, wait: 1 ms}}}}",
            Frames = "0 0x000 - 0 50",
            Silences = silences,
        }.Holds();

    // Off at 1500; the board does not know. The controller is back 1408 us later and sends what waited.
    [Fact]
    public void Rule_G4_without_the_guard_the_controller_comes_back_by_itself() =>
        new Scenario(Beat, "for: 3500 us\nbus off: {b: 1500 us}")
        {
            Frames = "0 0x014 01 0 *\n1000 0x014 02 1000 *\n2000 0x014 03 2908 *\n3000 0x014 04 * *",
        }.Holds();

    // Off at 500, back at 2908: the foreign frame at 600 passes unheard, the one at 6500 does not.
    [Fact]
    public void Rule_G4_a_controller_that_is_off_the_bus_hears_nothing() =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0, length: 0, every: 1 ms}}",
            "for: 9 ms\nbus off: {b: 500 us}\ntraffic: {b: [{id: 0, at: 600 us}, {id: 0, at: 6500 us}]}")
        {
            Guards = "{bus off: {recoveries: 1, within: 60 s, wait: 1 ms}}",
            Frames = "0 0x000 - 0 50\n2000 0x000 - 2908 2958\n3000 0x000 - 3000 3050\n4000 0x000 - 4000 4050\n5000 0x000 - 5000 5050\n6000 0x000 - 6000 6050",
            Silences = "6550 ForeignSender",
        }.Holds();

    // Active from 1500 on, settled at 1700, inactive again at 3500 and settled at 3700.
    [Fact]
    public void Rule_G5_the_board_sends_while_its_enable_input_is_active() =>
        new Scenario(Beat, "for: 5 ms\ninputs: {bench: [{at: 1500 us, level: active}, {at: 3500 us, level: inactive}]}")
        {
            Guards = "{enable: {input: bench, active: low, debounce: 200 us}}",
            Frames = "2000 0x014 01 2000 *\n3000 0x014 02 3000 *",
            Silences = "0 Disabled\n1700 None\n3700 Disabled",
        }.Holds();

    [Fact]
    public void Rule_G6_the_time_to_run_ends_to_the_microsecond() =>
        new Scenario(Beat, "for: 9 ms")
        {
            Guards = "{run at most: 2 ms}",
            Frames = "0 0x014 01 0 *\n1000 0x014 02 1000 *",
            Silences = "2000 RunTime",
        }.Holds();

    // 1073741824 us are one lap of 2^30 us; the frame at 4200 s is the last of those every 300 s, and the clock wraps on the way.
    [Fact]
    public void Rule_G6_a_long_time_to_run_is_counted_in_laps() =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0, length: 0, every: 600 s}}", "for: 6000 s\nclock: 0xFFFFFF00")
        {
            Guards = "{run at most: 70 min}",
            Frames = "0 0x000\n600000000 0x000\n1200000000 0x000\n1800000000 0x000\n2400000000 0x000\n3000000000 0x000\n3600000000 0x000",
            Silences = "4200000000 RunTime",
        }.Holds();

    private const string Steps = """
        buses: {b: {rate: 1 Mbit/s}}
        modes:
          first: {for: 2500 us, then: second}
          second: {}
        frames:
          A: {id: 0x014, length: 1, every: 1 ms, in: [second], fields: {n: {bit: 0, bits: 8, counter: {start: 1}}}}
        """;

    // Without a reset the frame goes at 2500, 3500, ...; the counter starts anew in any case.
    [Theory]
    [InlineData("cold", "watchdog", "2500 second\n6500 second", "6500 0x014 01 6500 *")]
    [InlineData("resume", "watchdog", "2500 second\n4000 second", "4000 0x014 01 4000 *\n5000 0x014 02 5000 *\n6000 0x014 03 6000 *")]
    [InlineData("resume", "brown-out", "2500 second\n6500 second", "6500 0x014 01 6500 *")]
    [InlineData("resume", "power", "2500 second\n6500 second", "6500 0x014 01 6500 *")]
    public void Rule_G7_modes_go_on_after_a_watchdog_reset_if_asked_to(string reset, string cause, string modes, string frames) =>
        new Scenario(Steps, $"for: 6600 us\nresets: {{at: 4 ms, cause: {cause}}}")
        {
            Guards = $"{{reset: {reset}}}",
            Frames = $"2500 0x014 01 2500 *\n3500 0x014 02 3500 *\n{frames}",
            Modes = modes,
        }.Holds();

    [Theory]
    [InlineData("watchdog", "1500 RunTime\n4000 RunTime", "")]
    [InlineData("brown-out", "1500 RunTime\n4000 RunTime", "")]
    [InlineData("power", "1500 RunTime\n5500 RunTime", "4000 0x014 01 4000 *\n5000 0x014 02 5000 *")]
    public void Rule_G8_silence_for_good_ends_only_with_the_power(string cause, string silences, string frames) =>
        new Scenario(Beat, $"for: 7 ms\nresets: {{at: 4 ms, cause: {cause}}}")
        {
            Guards = "{run at most: 1500 us}",
            Frames = $"0 0x014 01 0 *\n1000 0x014 02 1000 *\n{frames}",
            Silences = silences,
        }.Holds();

    // The frame accepted at 1000 waits behind the block and is forgotten by the reset at 1500; those of the new life begin at 1500.
    [Fact]
    public void Rule_G9_a_reset_empties_the_controllers() =>
        new Scenario(Beat, "for: 2600 us\nblocked: {b: {from: 900 us, until: 1400 us}}\nresets: [{at: 1200 us, cause: watchdog}]")
        {
            Frames = "0 0x014 01 0 *\n1000 0x014 02 - -\n1200 0x014 01 1400 *\n2200 0x014 02 2200 *",
        }.Holds();
}
