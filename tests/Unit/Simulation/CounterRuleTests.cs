using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules 13 and 14: counters.</summary>
public sealed class CounterRuleTests
{
    // Stalled from 1500 to 4500: 2000 and 3000 are skipped. The high nibble counts them, the low one does not:
    // 0/0, 1/1, then 2 + 2 against 2, then 5 against 3.
    [Fact]
    public void Rule_13_only_slot_counters_advance_for_skipped_releases() =>
        new Scenario(Counting("n: {bit: 0, bits: 4, counter: {from: 0, to: 15}}, s: {bit: 4, bits: 4, counter: {from: 0, to: 15, advance: slot}}"),
            "for: 5500 us\nstalls: [{from: 1500 us, until: 4500 us}]")
        {
            Frames = "0 0x000 00\n1000 0x000 11\n4500 0x000 42\n5000 0x000 53",
            Skipped = "A 2",
        }.Holds();

    // Two frames for a step. The low nibble counts frames that left, the high one the skipped ones as well: 0 and 1000 make a
    // step each; 2000 to 4000 are skipped, three more, so that with 4500 both have one over or none.
    [Fact]
    public void Rule_13_every_takes_several_frames_for_one_step() =>
        new Scenario(Counting("n: {bit: 0, bits: 4, counter: {from: 0, to: 15, every: 2}}, s: {bit: 4, bits: 4, counter: {from: 0, to: 15, every: 2, advance: slot}}"),
            "for: 8500 us\nstalls: [{from: 1500 us, until: 5500 us}]")
        {
            Frames = "0 0x000 00\n1000 0x000 00\n5500 0x000 21\n6000 0x000 31\n7000 0x000 32\n8000 0x000 42",
            Skipped = "A 3",
        }.Holds();

    [Fact]
    public void Rule_14_a_restart_begins_with_no_frame_counted() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            modes:
              on: {for: 3500 us, then: rest}
              rest: {for: 1 ms, then: on}
            frames:
              A: {id: 0x000, length: 1, every: 1 ms, in: on, fields: {n: {bit: 0, bits: 8, counter: {to: 2, every: 3, start: 1, restart: entry}}}}
            """, "for: 8 ms") { Frames = "0 0x000 01\n1000 0x000 01\n2000 0x000 01\n3000 0x000 02\n4500 0x000 01\n5500 0x000 01\n6500 0x000 01\n7500 0x000 02", Modes = "3500 rest\n4500 on\n8000 rest" }.Holds();

    // Cycle of 3 (0, 1, 2), 7 releases missed (2000 to 8000): after 1000 it stands at 2; 2 + 7 = 9 = 0 modulo 3.
    [Fact]
    public void Rule_13_many_skipped_releases_wrap_a_slot_counter() =>
        new Scenario(Counting("s: {bit: 0, bits: 4, counter: {from: 0, to: 2, advance: slot}}"),
            "for: 9500 us\nstalls: [{from: 1500 us, until: 9 ms}]")
        {
            Frames = "0 0x000 00\n1000 0x000 01\n9000 0x000 00",
            Skipped = "A 7",
        }.Holds();

    // Blocked from 100 to 3500: 1000 is in a mailbox with 1, 2000 stays pending, 3000 replaces it. Refusals and the
    // replaced release do not count: the next frame carries 2 and, counted by slot, 3.
    [Fact]
    public void Rule_13_refusals_do_not_count() =>
        new Scenario(Counting("n: {bit: 0, bits: 4, counter: {from: 0, to: 15}}, s: {bit: 4, bits: 4, counter: {from: 0, to: 15, advance: slot}}"),
            "for: 3900 us\nblocked: {b: {from: 100 us, until: 3500 us}}")
        {
            Frames = "0 0x000 00\n1000 0x000 11 3500\n* 0x000 32",
            Skipped = "A 1",
        }.Holds();

    [Fact]
    public void Rule_13_a_shared_counter_advances_with_every_frame_that_carries_it() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            counters: {both: {to: 255}}
            frames:
              A: {id: 0x000, length: 1, every: 1 ms, fields: {n: {bit: 0, bits: 8, counter: both}}}
              B: {id: 0x014, length: 1, every: 2 ms, fields: {n: {bit: 0, bits: 8, counter: both}}}
            """, "for: 2500 us") { Frames = "0 0x000 00\n0 0x014 01\n1000 0x000 02\n2000 0x000 03\n2000 0x014 04" }.Holds();

    [Theory]
    [InlineData("{from: 0, to: 10, step: 4}", "00 04 08 00 04")] // 12 would pass 10
    [InlineData("{from: 0, to: 10, step: 4, start: 8}", "08 00 04 08 00")]
    [InlineData("{from: 3, to: 0, step: 2}", "03 01 03 01 03")] // -1 would pass 0
    [InlineData("{from: 200, to: 100, step: 50, start: 150}", "96 64 C8 96 64")]
    [InlineData("{from: 254, to: 255}", "FE FF FE FF FE")]
    [InlineData("{start: 254}", "FE FF 00 01 02")] // as wide as the field
    public void Rule_14_values_run_from_start_to_the_last_and_begin_again(string counter, string values)
    {
        var lines = values.Split(' ').Select((v, i) => $"{i * 1000} 0x000 {v}");
        new Scenario(Counting($"n: {{bit: 0, bits: 8, counter: {counter}}}"), "for: 4500 us") { Frames = string.Join('\n', lines) }.Holds();
    }

    // Sends in a: 0 to 2500 and from 3500 on. Low nibble starts anew at 5, high nibble goes on: 5, 6, 7, then 8, 9.
    [Fact]
    public void Rule_14_a_counter_restarts_when_its_frame_starts_sending_if_asked_to() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            modes: {a: {for: 2500 us, then: b}, b: {for: 1 ms, then: a}}
            frames:
              A:
                id: 0
                length: 1
                every: 1 ms
                in: a
                fields:
                  again: {bit: 0, bits: 4, counter: {from: 4, to: 9, start: 5, restart: entry}}
                  on: {bit: 4, bits: 4, counter: {from: 4, to: 9, start: 5}}
            """, "for: 4700 us")
        {
            Modes = "2500 b\n3500 a",
            Frames = "0 0x000 55\n1000 0x000 66\n2000 0x000 77\n3500 0x000 85\n4500 0x000 96",
        }.Holds();

    // The secret follows the counter: 10, 20, 30 are added to 0 for the values 1, 2, 3.
    [Fact]
    public void Rule_12_a_secret_byte_is_chosen_by_the_counter_that_is_sent() =>
        new Scenario(Counting("n: {bit: 0, bits: 2, counter: {from: 1, to: 3}}, sum: {bit: 2, bits: 6, checksum: {rule: sum, over: [], with: [{secret: 04 08 0C}]}}"), "for: 3500 us")
        {
            // 04 shifted by two bits is 10; with counter 1: 11. Then 20 + 2, 30 + 3, 10 + 1.
            Frames = "0 0x000 11\n1000 0x000 22\n2000 0x000 33\n3000 0x000 11",
        }.Holds();

    private static string Counting(string fields) =>
        "buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0, length: 1, every: 1 ms, fields: {" + fields + "}}}\n";
}
