using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules 5 and 6: modes.</summary>
public sealed class ModeRuleTests
{
    private const string Start = "buses: {b: {rate: 1 Mbit/s}}\ninputs: {x: {active: high}, y: {active: high}, slow: {active: high, debounce: 300 us}}\n";

    private const string Never = "frames: {A: {id: 0, length: 0, every: 20 ms, offset: 50 ms}}\n";

    private const string Ways = Start + """
        modes:
          a:
            for: 1 ms
            then: c
            until:
              - {x: active, y: active, then: d}
              - {x: active, then: b}
              - {y: active, then: d}
          b: {}
          c: {}
          d: {}

        """ + Never;

    // At 1000 the time ends and the inputs change: conditions come first, in the order written.
    [Theory]
    [InlineData("{}", "1000 c")]
    [InlineData("{x: {at: 1 ms, level: active}}", "1000 b")]
    [InlineData("{x: {at: 1 ms, level: active}, y: {at: 1 ms, level: active}}", "1000 d")]
    [InlineData("{x: {at: 999 us, level: active}, y: {at: 1 ms, level: active}}", "999 b")]
    [InlineData("{x: {at: 1001 us, level: active}}", "1000 c")]
    public void Rule_5_conditions_are_tried_as_written_and_before_the_time(string inputs, string modes) =>
        new Scenario(Ways, $"for: 5 ms\ninputs: {inputs}") { Modes = modes }.Holds();

    // x leads from a to b, and on to c in the same instant; c began at 1000 and ends at 1000 + 700.
    [Fact]
    public void Rule_5_several_changes_happen_in_one_instant() =>
        new Scenario(Start + """
            modes:
              a: {until: {x: active, then: b}}
              b: {for: 100 us, then: d, until: {x: active, then: c}}
              c: {for: 700 us, then: d}
              d: {}

            """ + Never, "for: 5 ms\ninputs: {x: {at: 1 ms, level: active}}") { Modes = "1000 c\n1700 d" }.Holds();

    // x is active from power-on: the first mode is left in the first instant.
    [Fact]
    public void Rule_5_the_first_mode_is_entered_at_power_on() =>
        new Scenario(Start + """
            modes:
              a: {for: 100 us, then: c, until: {x: active, then: b}}
              b: {for: 100 us, then: c}
              c: {}

            """ + Never, "for: 5 ms\ninputs: {x: {at: 0 ms, level: active}}") { Modes = "0 b\n100 c" }.Holds();

    // Longer than 2^30 us = 1073.741824 s: one lap and 5 us. The next stay is exactly one lap, then 2 laps less 1 us.
    [Fact]
    public void Rule_1_long_stays_are_counted_in_laps() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            modes:
              a: {for: 1073741829 us, then: b}
              b: {for: 1073741824 us, then: c}
              c: {for: 2147483647 us, then: d}
              d: {}
            frames: {A: {id: 0, length: 0, every: 1000 s, offset: 0 s, in: d}}
            """, "for: 4300 s\nclock: 0xFFFFFFFF")
        {
            // 1073741829; + 1073741824 = 2147483653; + 2147483647 = 4294967300.
            Modes = "1073741829 b\n2147483653 c\n4294967300 d",
            Frames = "4294967300 0x000 - 4294967300 4294967350",
        }.Holds();

    // Stalled from 900 to 5000. b begins at 1000 and c at 2000, at their nominal times, so c ends at
    // 2000 + 10000. C is due at 2000 + 500 + k * 2000: of 2500 and 4500 the newer is sent at 5000.
    // B would have been due at 1000 + 100; its mode is over before anything is released.
    [Fact]
    public void Rule_6_a_late_board_works_through_missed_mode_ends_at_their_times() =>
        new Scenario(Start + """
            modes:
              a: {for: 1 ms, then: b}
              b: {for: 1 ms, then: c}
              c: {for: 10 ms, then: d}
              d: {}
            frames:
              B: {id: 0x14, length: 1, every: 1 ms, offset: 100 us, in: b}
              C: {id: 0, length: 0, every: 2 ms, offset: 500 us, in: c}
            """, "for: 13 ms\nstalls: [{from: 900 us, until: 5 ms}]")
        {
            Modes = "5000 c\n12000 d",
            Frames = """
                5000 0x000 - 5000 5050
                6500 0x000 - 6500 6550
                8500 0x000 - 8500 8550
                10500 0x000 - 10500 10550
                """,
            Skipped = "C 1",
        }.Holds();

    // 'slow' is seen at 800 and settles at 1100, within the stall from 850 to 5000: b begins at 1100 and ends at 2100.
    // x rises and falls within the stall, so nobody sees it.
    [Fact]
    public void Rule_6_a_late_board_settles_inputs_at_their_times() =>
        new Scenario(Start + """
            modes:
              a: {until: [{x: active, then: d}, {slow: active, then: b}]}
              b: {for: 1 ms, then: c}
              c: {for: 3 ms, then: d}
              d: {}

            """ + Never, """
            for: 8 ms
            stalls: [{from: 850 us, until: 5 ms}]
            inputs:
              slow: {at: 800 us, level: active}
              x: [{at: 2 ms, level: active}, {at: 3 ms, level: inactive}]
            """) { Modes = "5000 c\n5100 d" }.Holds();
}
