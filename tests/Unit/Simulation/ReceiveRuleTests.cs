using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules 19 and 20 and conditions on received frames. 1 µs per bit; 0x000 without data has 50 bits, 0x014 with 01 has 55, 0x078 with 3C eight times 128 (shared/vectors/can-frames.json).</summary>
public sealed class ReceiveRuleTests
{
    private const string Bus = "buses: {b: {rate: 1 Mbit/s}}\n";

    private const string Answer = Bus + """
        receives: {R: {id: 0x000}}
        frames: {A: {id: 0x014, length: 1, base: 01, on: {receive: R}}}
        """;

    private const string There = """
        modes:
          a: {until: {R: received, then: b}}
          b: {until: {R: lost, then: a}}
        frames: {A: {id: 0x7FF, length: 0, every: 100 ms, offset: 90 ms}}
        """;

    // 1000 + 50 bits; the answer starts 3 bits later.
    [Fact]
    public void Rule_19_a_frame_is_heard_when_it_leaves_the_bus() =>
        new Scenario(Answer, Traffic("{id: 0, every: 100 ms, offset: 1 ms}")) { Frames = "1050 0x014 01 1053 1108" }.Holds();

    [Fact]
    public void Rule_19_a_stalled_board_takes_it_at_its_next_step() =>
        new Scenario(Answer, Traffic("{id: 0, every: 100 ms, offset: 1 ms}") + "stalls: [{from: 1010 us, until: 2 ms}]") { Frames = "2000 0x014 01 2000 2055" }.Holds();

    // Both leave the bus during the stall; what came last counts.
    [Theory]
    [InlineData(1200, 1500, "01")]
    [InlineData(1500, 1200, "3C")]
    public void Rule_19_several_are_taken_in_order(int other, int small, string last) =>
        new Scenario(Bus + """
            receives: {R: {id: 0, mask: 0, fields: {f: {bit: 0, bits: 8}}}}
            frames: {A: {id: 0x200, length: 1, every: 100 ms, offset: 5 ms, fields: {f: {bit: 0, bits: 8, follow: R.f, lost: 0xFF}}}}
            """, Traffic($"{{id: 0x078, every: 100 ms, offset: {other} us, data: 3C 3C 3C 3C 3C 3C 3C 3C}}", $"{{id: 0x014, every: 100 ms, offset: {small} us, data: 01}}")
            + "stalls: [{from: 1 ms, until: 3 ms}]")
        { Frames = $"5000 0x200 {last}" }.Holds();

    // 0x014 lies under 0x010/0x7F0, 0x078 does not. Heard at 1055, lost 2 ms later.
    [Fact]
    public void Rule_20_the_mask_says_which_bits_count() =>
        new Scenario(Bus + "receives: {R: {id: 0x010, mask: 0x7F0, timeout: 2 ms}}\n" + There,
            Traffic("{id: 0x078, every: 100 ms, offset: 500 us, data: 3C 3C 3C 3C 3C 3C 3C 3C}", "{id: 0x014, every: 100 ms, offset: 1 ms, data: 01}"))
        { Modes = "1055 b\n3055 a" }.Holds();

    [Theory]
    [InlineData("11 bit", "")]
    [InlineData("29 bit", "1066 b")]
    public void Rule_20_any_traffic_has_one_kind_of_identifier(string kind, string modes) =>
        new Scenario(Bus + $"receives: {{R: {{id: any, id kind: {kind}}}}}\n" + There, Traffic("{id: 0x12345678, every: 100 ms, offset: 1 ms}")) { Modes = modes }.Holds();

    [Theory]
    [InlineData(7, "1055 b")]
    [InlineData(8, "")]
    [InlineData(0, "1055 b")]
    public void Rule_20_a_frame_too_short_for_the_fields_does_not_count(int bit, string modes) =>
        new Scenario(Bus + $"receives: {{R: {{id: 0x014, fields: {{f: {{bit: {bit}, bits: 1}}}}}}}}\n" + There, Traffic("{id: 0x014, every: 100 ms, offset: 1 ms, data: 01}")) { Modes = modes }.Holds();

    // Heard at 1000, lost at 3000. At either instant reception and loss come before the release.
    [Fact]
    public void Rule_20_received_and_lost_at_the_instant_of_a_release() =>
        new Scenario(Bus + """
            receives: {R: {id: 0x014, timeout: 2 ms, fields: {f: {bit: 0, bits: 8}}}}
            frames: {A: {id: 0x200, length: 1, every: 1 ms, fields: {f: {bit: 0, bits: 8, follow: R.f, lost: 0xFF}}}}
            """, Traffic("{id: 0x014, every: 100 ms, offset: 945 us, data: 01}")) { Frames = "0 0x200 FF\n1000 0x200 01\n2000 0x200 01\n3000 0x200 FF\n4000 0x200 FF\n5000 0x200 FF" }.Holds();

    // Heard at 1000, 3000, 5000: each just in time, as receptions come before losses. One microsecond later is too late.
    [Theory]
    [InlineData("2 ms", "1000 b")]
    [InlineData("2001 us", "1000 b\n3000 a\n3001 b\n5001 a\n5002 b")]
    public void Rule_20_a_reception_at_the_end_of_the_timeout_is_in_time(string period, string modes) =>
        new Scenario(Bus + "receives: {R: {id: 0x014, timeout: 2 ms}}\n" + There, Traffic($"{{id: 0x014, every: {period}, offset: 945 us, data: 01}}")) { Modes = modes }.Holds();

    // At 1055 the frame is heard, its field is 1, and the time of a is over, all at once.
    [Theory]
    [InlineData("{R.f: {at least: 1}, then: b}, {R: received, then: c}", "1055 b")]
    [InlineData("{R: received, then: c}, {R.f: {at least: 1}, then: b}", "1055 c")]
    [InlineData("{R.f: {below: 1}, then: b}, {R.f: 2, then: c}", "1055 d")]
    [InlineData("{R.f: {not: 1}, then: b}, {R.f: 1, then: c}", "1055 c")]
    [InlineData("{R.f: {not: 2}, R: received, then: b}", "1055 b")]
    public void Rule_5_conditions_are_tried_as_written_before_the_time(string until, string modes) =>
        new Scenario(Bus + "receives: {R: {id: 0x014, fields: {f: {bit: 0, bits: 8}}}}\n" + $"modes: {{a: {{for: 1055 us, then: d, until: [{until}]}}, b: {{}}, c: {{}}, d: {{}}}}\n"
            + "frames: {A: {id: 0x7FF, length: 0, every: 100 ms, offset: 90 ms}}", Traffic("{id: 0x014, every: 100 ms, offset: 1 ms, data: 01}"))
        { Modes = modes }.Holds();

    private static string Traffic(params string[] frames) => $"for: 5500 us\ntraffic: {{b: [{string.Join(", ", frames)}]}}\n";
}
