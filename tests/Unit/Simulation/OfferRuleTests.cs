using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules 10 to 12: offers and payloads. Bits of the frames: shared/vectors/can-frames.json.</summary>
public sealed class OfferRuleTests
{
    // Bus b is blocked from 100 to 2500. A of 1000 waits in a mailbox, so A of 2000 is refused, and B, due at 2000 as well,
    // is not even offered; on the other bus it is. At 2550 A has left: A and B are accepted. A starts at 2500 + 53 and
    // ends 50 later; B starts at 2553 + 53 and has 55 bits.
    [Fact]
    public void Rule_10_a_refusal_closes_the_bus_for_this_step_and_no_other_bus() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}, k: {rate: 1 Mbit/s}}
            frames:
              B: {bus: b, id: 0x14, length: 1, every: 5 ms, offset: 2 ms, base: 01}
              A: {bus: b, id: 0, length: 0, every: 1 ms}
              K: {bus: k, id: 0x14, length: 1, every: 5 ms, offset: 2 ms, base: 01}
            """, "for: 2900 us\nblocked: {b: {from: 100 us, until: 2500 us}}")
        {
            Frames = """
                0 0x000 - 0 50
                2000 0x014 01 2000 2055
                1000 0x000 - 2500 2550
                2550 0x000 - 2553 2603
                2550 0x014 01 2606 2661
                """,
        }.Holds();

    // Four frames at 1000, blocked from 500 to 2000: three mailboxes take the first three. At 2050 the first has left and
    // the fourth is accepted. Starts: 2000, + 53, + 58, + 112; ends: + 50, + 55, + 109, + 123.
    [Fact]
    public void Rule_11_a_fourth_frame_finds_no_mailbox() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            frames:
              D: {id: 0x7FF, length: 8, every: 9 ms, offset: 1 ms, base: FF FF FF FF FF FF FF FF}
              C: {id: 0x123, length: 8, every: 9 ms, offset: 1 ms, base: 11 22 33 44 55 66 77 88}
              B: {id: 0x014, length: 1, every: 9 ms, offset: 1 ms, base: 01}
              A: {id: 0x000, length: 0, every: 9 ms, offset: 1 ms}
            """, "for: 5 ms\nblocked: {b: {from: 500 us, until: 2 ms}}")
        {
            Frames = """
                1000 0x000 - 2000 2050
                1000 0x014 01 2053 2108
                1000 0x123 1122334455667788 2111 2220
                2050 0x7FF FFFFFFFFFFFFFFFF 2223 2346
                """,
        }.Holds();

    // Mode a until 2200, blocked from 100 to 2500. The payload of 1000 was composed when the mailbox took it (mode a),
    // that of 2000 when it was accepted, after 2500 (mode b).
    [Fact]
    public void Rule_12_the_payload_is_composed_when_the_frame_is_accepted() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            modes: {a: {for: 2200 us, then: b}, b: {}}
            frames:
              A: {id: 0, length: 1, every: 1 ms, fields: {v: {bit: 0, bits: 8, value: {a: 1, b: 2}}}}
            """, "for: 2900 us\nblocked: {b: {from: 100 us, until: 2500 us}}")
        {
            Modes = "2200 b",
            Frames = """
                0 0x000 01 0
                1000 0x000 01 2500
                * 0x000 02 *
                """,
        }.Holds();

    // Base FF everywhere. Byte 0: high nibble of the base, value 5. Byte 1: the same with counter 3, then 4.
    // Byte 2 is base. Byte 3: F5 + F3 + FF = 2E7, then F5 + F4 + FF = 2E8, modulo 256.
    [Fact]
    public void Rule_12_base_then_values_then_counters_then_checksums() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            frames:
              A:
                id: 0
                length: 4
                every: 1 ms
                base: FF FF FF FF
                fields:
                  sum: {bit: 24, bits: 8, checksum: {rule: sum, over: 0..2}}
                  count: {bit: 8, bits: 4, counter: {from: 3, to: 9}}
                  value: {bit: 0, bits: 4, value: 5}
            """, "for: 1500 us") { Frames = "0 0x000 F5F3FFE7\n1000 0x000 F5F4FFE8" }.Holds();

    // The first checksum reads byte 2, which the second has not written yet: 10 + 00. The second reads 10 and that 10.
    [Fact]
    public void Rule_12_checksums_are_computed_in_order_of_definition() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            frames:
              A:
                id: 0
                length: 3
                every: 1 ms
                base: 10 FF FF
                fields:
                  first: {bit: 8, bits: 8, checksum: {rule: sum, over: [0, 2]}}
                  second: {bit: 16, bits: 8, checksum: {rule: sum, over: 0..1}}
            """, "for: 500 us") { Frames = "0 0x000 101020" }.Holds();
}
