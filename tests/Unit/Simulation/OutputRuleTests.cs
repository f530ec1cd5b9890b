using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules O1 to O5 and G10: outputs. Nothing is sent here; a frame is there because a description has one.</summary>
public sealed class OutputRuleTests
{
    private const string Modes = "\nmodes: {m0: {for: 10 ms, then: m1}, m1: {for: 10 ms, then: m2}, m2: {}}";

    private static Scenario Of(string text, string stimulus) =>
        new($"buses: {{b: {{rate: 1 Mbit/s}}}}\n{text}\nframes: {{A: {{id: 1, length: 0, on: {{start: yes, after: 900 s}}}}}}", stimulus);

    [Fact]
    public void Rule_O1_an_output_is_wanted_in_its_modes() =>
        (Of($"outputs: {{x: {{active: high, in: m1}}, y: {{active: low, in: [m1, m2]}}}}{Modes}", "for: 50 ms") with
        {
            Modes = "10000 m1\n20000 m2",
            Outputs = "10000 x on\n10000 y on\n20000 x off",
        }).Holds();

    [Fact]
    public void Rule_O1_sleeping_modes_are_left_out_by_default() =>
        (Of("outputs: {x: {active: high}}\nmodes: {a: {for: 5 ms, then: b}, b: {sleep: yes, for: 5 ms, then: a}}", "for: 12 ms") with
        {
            Modes = "5000 b\n10000 a",
            Outputs = "0 x on\n5000 x off\n10000 x on",
        }).Holds();

    [Fact]
    public void Rule_O1_one_of_several_conditions_is_enough_and_all_of_its_parts_must_hold() =>
        (Of("inputs: {p: {active: high}, q: {active: low}}\noutputs: {x: {active: high, while: [{p: active, q: inactive}, {p: inactive, q: active}]}}",
            "for: 50 ms\ninputs: {p: [{at: 5 ms, level: active}, {at: 20 ms, level: inactive}], q: [{at: 10 ms, level: active}]}") with
        {
            Outputs = "5000 x on\n10000 x off\n20000 x on",
        }).Holds();

    // The frame of two bytes lasts 66 us at 1 Mbit/s and is heard at 3066; its timeout ends at 8066.
    [Fact]
    public void Rule_O1_conditions_may_look_at_received_frames() =>
        (Of("receives: {R: {id: 0x100, timeout: 5 ms, fields: {f: {bit: 0, bits: 8}}}}\noutputs: {x: {active: high, while: {R.f: {at least: 5}}}}",
            "for: 50 ms\ntraffic: {b: [{id: 0x100, at: 3 ms, data: 05 00}]}") with
        {
            Outputs = "* x on\n* x off",
        }).Holds();

    [Fact]
    public void Rule_O2_stages_follow_one_another_and_end() =>
        (Of("inputs: {run: {active: high, debounce: 2 ms}}\noutputs: {first: {active: high, while: {run: active}}, second: {active: high, while: {run: active}, after: 1 s, for: 500 ms}}",
            "for: 5 s\ninputs: {run: [{at: 100 ms, level: active}, {at: 3 s, level: inactive}, {at: 3.5 s, level: active}]}") with
        {
            Outputs = "102000 first on\n1102000 second on\n1602000 second off\n3002000 first off\n3502000 first on\n4502000 second on",
        }).Holds();

    [Fact]
    public void Rule_O2_what_is_not_wanted_any_more_begins_anew() =>
        (Of("inputs: {run: {active: high}}\noutputs: {x: {active: high, while: {run: active}, after: 10 ms}}",
            "for: 60 ms\ninputs: {run: [{at: 1 ms, level: active}, {at: 8 ms, level: inactive}, {at: 9 ms, level: active}]}") with
        {
            Outputs = "19000 x on",
        }).Holds();

    // Wanted at 5 ms, on at 15 ms, off at 20 ms: all of it in the stall from 10 to 30 ms. The other one is still on then.
    [Fact]
    public void Rule_O3_a_late_board_leaves_out_what_was_over() =>
        (Of($"outputs: {{x: {{active: high, in: m1, after: 5 ms, for: 3 ms}}, y: {{active: high, in: [m1, m2], after: 8 ms}}}}{Modes}",
            "for: 50 ms\nstalls: [{from: 12 ms, until: 30 ms}]") with
        {
            Modes = "10000 m1\n30000 m2",
            Outputs = "30000 y on",
        }).Holds();

    [Fact]
    public void Rule_O3_a_silent_board_switches_off_and_times_go_on() =>
        (Of("outputs: {x: {active: high, after: 5 ms, for: 20 ms}}", "for: 50 ms\ninputs: {go: [{at: 10 ms, level: active}, {at: 15 ms, level: inactive}, {at: 18 ms, level: active}]}") with
        {
            Guards = "{enable: {input: go, active: high}}",
            Silences = "0 Disabled\n10000 None\n15000 Disabled\n18000 None",
            Outputs = "10000 x on\n15000 x off\n18000 x on\n25000 x off",
        }).Holds();

    [Fact]
    public void Rule_O4_an_edge_reaches_its_wire_a_microsecond_later() =>
        (Of($"inputs: {{wire: {{active: low, debounce: 3 ms}}}}\noutputs: {{wire: {{active: low, in: m1}}, x: {{active: high, while: {{wire: active}}}}}}{Modes}", "for: 50 ms") with
        {
            Modes = "10000 m1\n20000 m2",
            Outputs = "10000 wire on\n13001 x on\n20000 wire off\n23001 x off",
        }).Holds();

    [Fact]
    public void Rule_O5_outputs_begin_anew_after_a_reset() =>
        (Of("outputs: {x: {active: high}, y: {active: high, after: 5 ms}}", "for: 30 ms\nresets: [{at: 12 ms, cause: watchdog}]") with
        {
            Outputs = "0 x on\n5000 y on\n12000 x off\n12000 y off\n12000 x on\n17000 y on",
        }).Holds();

    // Most 1: the second brown-out in a row is one too many. The watchdog changes nothing, only the power ends it.
    [Fact]
    public void Rule_G10_brown_outs_in_a_row_end_the_switching() =>
        (Of("outputs: {x: {active: high, after: 1 ms}}",
            "for: 80 ms\nresets: [{at: 10 ms, cause: brown-out}, {at: 20 ms, cause: brown-out}, {at: 30 ms, cause: watchdog}, {at: 40 ms, cause: power}]") with
        {
            Guards = "{brown-outs: {most: 1, steady: 50 ms}}",
            Silences = "20000 OutputsOff\n30000 OutputsOff",
            Outputs = "1000 x on\n10000 x off\n11000 x on\n20000 x off\n41000 x on",
        }).Holds();

    [Fact]
    public void Rule_G10_a_steady_time_forgets_brown_outs() =>
        (Of("outputs: {x: {active: high, after: 1 ms}}", "for: 80 ms\nresets: [{at: 10 ms, cause: brown-out}, {at: 31 ms, cause: brown-out}]") with
        {
            Guards = "{brown-outs: {most: 1, steady: 20 ms}}",
            Outputs = "1000 x on\n10000 x off\n11000 x on\n31000 x off\n32000 x on",
        }).Holds();

    [Fact]
    public void Rule_G10_a_circle_of_inrush_and_brown_out_ends_by_default() =>
        (Of("outputs: {x: {active: high, after: 1 ms}}",
            "for: 80 ms\nresets: [{at: 3 ms, cause: brown-out}, {at: 6 ms, cause: brown-out}, {at: 9 ms, cause: brown-out}, {at: 12 ms, cause: brown-out}]") with
        {
            Silences = "12000 OutputsOff",
            Outputs = "1000 x on\n3000 x off\n4000 x on\n6000 x off\n7000 x on\n9000 x off\n10000 x on\n12000 x off",
        }).Holds();

    [Fact]
    public void Rule_G10_brown_outs_may_be_ignored() =>
        (Of("outputs: {x: {active: high}}", "for: 80 ms\nresets: [{at: 3 ms, cause: brown-out}, {at: 6 ms, cause: brown-out}]") with
        {
            Guards = "{brown-outs: ignore}",
            Outputs = "0 x on\n3000 x off\n3000 x on\n6000 x off\n6000 x on",
        }).Holds();

    // The clock shows 2^32 - 5000 at power-on: it wraps between being wanted and being on.
    [Fact]
    public void Times_of_outputs_go_over_the_wrap_of_the_clock() =>
        (Of("outputs: {x: {active: high, after: 6 ms, for: 10 ms}}", "for: 50 ms\nclock: 4294962296") with
        {
            Outputs = "6000 x on\n16000 x off",
        }).Holds();
}
