using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules 1 to 4: time, steps, order within an instant, inputs. 1 Mbit/s, so a bit lasts 1 µs.</summary>
public sealed class InputRuleTests
{
    private const string Switch = """
        buses: {b: {rate: 1 Mbit/s}}
        inputs: {key: {active: high, debounce: 100 us}, free: {active: low, debounce: 7 us}}
        modes:
          off: {until: {key: active, then: on}}
          on: {until: {key: inactive, then: off}}
        frames:
          A: {id: 0, length: 0, every: 10 ms, offset: 9 ms, in: [off, on]}
        """;

    // The frame has 50 bits (shared/vectors/can-frames.json): from 9000 to 9050.
    private const string Sent = "9000 0x000 - 9000 9050";

    // Seen at 1000, back 1 us too early at 1099; seen again at 1100, settles at 1200.
    // Falls at 2000 and comes back at 2100, just when it would settle: levels are read first, so nothing happens.
    // Falls for good at 3000, settles at 3100.
    private const string Edges = """
        inputs:
          key:
            - {at: 1000 us, level: active}
            - {at: 1099 us, level: inactive}
            - {at: 1100 us, level: active}
            - {at: 2000 us, level: inactive}
            - {at: 2100 us, level: active}
            - {at: 3000 us, level: inactive}
        """;

    [Fact]
    public void Rule_4_a_level_counts_after_its_debounce_and_a_bounce_ends_it() =>
        new Scenario(Switch, $"for: 10 ms\n{Edges}") { Frames = Sent, Modes = "1200 on\n3100 off" }.Holds();

    [Fact]
    public void Rule_4_the_level_at_power_on_is_seen_then() =>
        new Scenario(Switch, "for: 10 ms\ninputs: {key: {at: 0 ms, level: active}}") { Frames = Sent, Modes = "100 on" }.Holds();

    [Fact]
    public void Rule_4_a_level_that_lasts_exactly_as_long_as_the_debounce_is_lost_and_one_microsecond_longer_counts() =>
        new Scenario(Switch, """
            for: 10 ms
            inputs:
              key:
                - {at: 1000 us, level: active}
                - {at: 1100 us, level: inactive}
                - {at: 5000 us, level: active}
                - {at: 5101 us, level: inactive}
            """) { Frames = Sent, Modes = "5100 on\n5201 off" }.Holds();

    [Fact]
    public void Rule_4_no_debounce_settles_at_once_and_low_can_be_active() =>
        new Scenario(Switch.Replace("active: high, debounce: 100 us", "active: low", StringComparison.Ordinal), """
            for: 10 ms
            inputs:
              key:
                - {at: 0 us, level: active}
                - {at: 1 us, level: inactive}
                - {at: 4000 us, level: active}
            """) { Frames = Sent, Modes = "0 on\n1 off\n4000 on" }.Holds();

    // 2^32 - 1150 on the clock: it wraps within the debounce that ends at 1200.
    [Fact]
    public void Rule_1_the_wrap_of_the_clock_changes_nothing() =>
        new Scenario(Switch, $"for: 10 ms\nclock: 0xFFFFFB82\n{Edges}") { Frames = Sent, Modes = "1200 on\n3100 off" }.Holds();

    // Edges of an input that no condition looks at make the board step; 7 us later each settles.
    [Fact]
    public void Rule_2_more_steps_change_nothing()
    {
        var free = string.Concat(Enumerable.Range(1, 400).Select(i => $"\n    - {{at: {(i * 21) + 3} us, level: {(i % 2 is 1 ? "active" : "inactive")}}}"));
        new Scenario(Switch, $"for: 10 ms\n{Edges}\n  free:{free}") { Frames = Sent, Modes = "1200 on\n3100 off" }.Holds();
    }

    // At 1000 the key settles (no debounce) and the mode changes before anything is released:
    // A, due at 1000 in the mode that ends, is not sent; B, due 0 us after the new mode began, is.
    // B has 55 bits (shared/vectors/can-frames.json).
    [Fact]
    public void Rule_3_inputs_come_before_modes_and_modes_before_releases() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            inputs: {key: {active: high}}
            modes:
              off: {until: {key: active, then: on}}
              on: {}
            frames:
              A: {id: 0, length: 0, every: 500 us, in: off}
              B: {id: 0x14, length: 1, every: 5 ms, in: on, base: 01}
            """, "for: 3 ms\ninputs: {key: {at: 1 ms, level: active}}")
        {
            Frames = """
                0 0x000 - 0 50
                500 0x000 - 500 550
                1000 0x014 01 1000 1055
                """,
            Modes = "1000 on",
        }.Holds();
}
