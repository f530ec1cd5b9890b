using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules 15 to 18: the modelled wire. Frame lengths in bits from shared/vectors/can-frames.json, which names its sources.</summary>
public sealed class WireRuleTests
{
    private const string Nine = """
        buses: {b: {rate: 1 Mbit/s}}
        frames:
          F1: {id: 0x7FF, length: 8, every: 90 ms, offset: 8 ms, base: FF FF FF FF FF FF FF FF}
          F2: {id: 0x18FEF100, length: 8, every: 90 ms, offset: 7 ms, base: 00 11 22 33 44 55 66 77}
          F3: {id: 0x555, length: 8, every: 90 ms, offset: 6 ms, base: 55 55 55 55 55 55 55 55}
          F4: {id: 0x12345678, length: 0, every: 90 ms, offset: 5 ms}
          F5: {id: 0x0CF00400, length: 8, every: 90 ms, offset: 4 ms, base: FF FF FF FF FF FF FF FF}
          F6: {id: 0x123, length: 8, every: 90 ms, offset: 3 ms, base: 11 22 33 44 55 66 77 88}
          F7: {id: 0x078, length: 8, every: 90 ms, offset: 2 ms, base: 3C 3C 3C 3C 3C 3C 3C 3C}
          F8: {id: 0x014, length: 1, every: 90 ms, offset: 1 ms, base: 01}
          F9: {id: 0x000, length: 0, every: 90 ms, offset: 0 ms}
        """;

    [Fact]
    public void Rule_16_a_frame_lasts_to_the_end_of_its_last_bit() =>
        new Scenario(Nine, "for: 20 ms")
        {
            Frames = """
                0 0x000 - 0 50
                1000 0x014 01 1000 1055
                2000 0x078 3C3C3C3C3C3C3C3C 2000 2128
                3000 0x123 1122334455667788 3000 3109
                4000 0x0CF00400 FFFFFFFFFFFFFFFF 4000 4144
                5000 0x12345678 - 5000 5066
                6000 0x555 5555555555555555 6000 6109
                7000 0x18FEF100 0011223344556677 7000 7134
                8000 0x7FF FFFFFFFFFFFFFFFF 8000 8123
                """,
        }.Holds();

    // All at once: in arbitration order, each 3 bits after the end of the one before. Base identifiers of the long ones
    // are 0x33C, 0x48D and 0x63F. Three are accepted at 0, each further one when the next mailbox gets free.
    [Fact]
    public void Rule_16_frames_follow_each_other_after_three_bits_in_arbitration_order() =>
        new Scenario(System.Text.RegularExpressions.Regex.Replace(Nine, "offset: . ms", "offset: 0 ms"), "for: 20 ms")
        {
            Frames = """
                0 0x000 - 0 50
                0 0x014 01 53 108
                0 0x078 3C3C3C3C3C3C3C3C 111 239
                50 0x123 1122334455667788 242 351
                108 0x0CF00400 FFFFFFFFFFFFFFFF 354 498
                239 0x12345678 - 501 567
                351 0x555 5555555555555555 570 679
                498 0x18FEF100 0011223344556677 682 816
                567 0x7FF FFFFFFFFFFFFFFFF 819 942
                """,
        }.Holds();

    // 83333 bit/s: 50 bits 600.0024 us, 53 bits 636.0025 us, 55 bits 660.0026 us; each rounded up.
    [Fact]
    public void Rule_15_times_are_rounded_up_to_whole_microseconds() =>
        new Scenario("""
            buses: {b: {rate: 83.333 kbit/s}}
            frames:
              A: {id: 0x000, length: 0, every: 90 ms}
              B: {id: 0x014, length: 1, every: 90 ms, base: 01}
            """, "for: 20 ms") { Frames = "0 0x000 - 0 601\n0 0x014 01 637 1298" }.Holds();

    // 0x00500000 has the base 0x014: the 11-bit frame 0x014 wins against it (its RTR bit meets SRR), 0x015 loses.
    // 58 us: 0x014 with one byte has 55 bits and 3 more.
    [Fact]
    public void Rule_17_eleven_bits_win_against_29_bits_with_the_same_base() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            frames:
              Later: {id: 0x015, length: 0, every: 90 ms}
              Long: {id: 0x00500000, length: 0, every: 90 ms}
              Short: {id: 0x014, length: 1, every: 90 ms, base: 01}
            """, "for: 20 ms") { Frames = "0 0x014 01 0 55\n0 0x00500000 - 58\n0 0x015 - *" }.Holds();

    // Blocked until 500. Another node's 0x000 is offered at 100; the board's at 50 goes before it, at 200 behind it.
    [Theory]
    [InlineData(50, "50 0x000 - 500 550")]
    [InlineData(200, "200 0x000 - 553 603")]
    public void Rule_17_between_equal_identifiers_the_earlier_offer_goes_first(int offset, string frame) =>
        new Scenario($"buses: {{b: {{rate: 1 Mbit/s}}}}\nframes: {{A: {{id: 0, length: 0, every: 90 ms, offset: {offset} us}}}}",
            "for: 2 ms\nblocked: {b: {from: 0 us, until: 500 us}}\ntraffic: {b: {id: 0, every: 50 ms, offset: 100 us}}")
        {
            Guards = "{foreign sender: ignore}",
            Frames = frame,
        }.Holds();

    // Another node's 0x000 comes every 100 us and waits from 100 on; its releases until 1000 are dropped. One of them goes
    // at 1000, and at 1053 only the board's frame is there (the next of the other node comes at 1100).
    [Fact]
    public void Rule_17_another_nodes_frame_that_still_waits_is_not_queued_twice() =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0x7FF, length: 8, every: 90 ms, offset: 900 us, base: FF FF FF FF FF FF FF FF}}",
            "for: 2 ms\nblocked: {b: {from: 0 us, until: 1 ms}}\ntraffic: {b: {id: 0, every: 100 us, offset: 100 us}}")
        {
            Frames = "900 0x7FF FFFFFFFFFFFFFFFF 1053 1176",
        }.Holds();

    // The frame that is on the wire when the block begins goes on; the next starts when the block ends. A frame accepted and
    // not sent by the end of the run has no start.
    [Fact]
    public void Rule_18_a_block_holds_starts_back_and_nothing_else() =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0, length: 0, every: 100 us}}", "for: 1060 us\nblocked: {b: [{from: 10 us, until: 1010 us}, {from: 1020 us, until: 2 ms}]}")
        {
            Frames = "0 0x000 - 0 50\n100 0x000 - 1010 1060\n1060 0x000 - - -",
            // Pending since 200; replaced at 300, 400, ... 1000.
            Skipped = "A 8",
        }.Holds();

    // Stalled from 1020 to 3000: the frame on the wire ends at 1050, but the board sends again only at 3000.
    [Fact]
    public void Rule_18_a_stalled_board_does_not_step_and_its_controller_goes_on() =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nframes: {A: {id: 0, length: 0, every: 1 ms}, B: {id: 0x14, length: 1, every: 90 ms, offset: 1 ms, base: 01}}", "for: 3300 us\nstalls: [{from: 1020 us, until: 3 ms}]")
        {
            Frames = """
                0 0x000 - 0 50
                1000 0x000 - 1000 1050
                1000 0x014 01 1053 1108
                3000 0x000 - 3000 3050
                """,
            Skipped = "A 1",
        }.Holds();
}
