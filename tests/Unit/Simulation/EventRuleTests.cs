using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules 24 to 26: events. 1 µs per bit; 0x000 without data has 50 bits, 0x014 with 01 has 55 (shared/vectors/can-frames.json).</summary>
public sealed class EventRuleTests
{
    private const string Bus = "buses: {b: {rate: 1 Mbit/s}}\n";
    private const string Line = Bus + "inputs: {line: {active: high}}\n";
    private const string Both = "on: [{input: line}, {input: line, level: inactive}]";
    private const string Pulse = "inputs: {line: [{at: 1 ms, level: active}, {at: 1500 us, level: inactive}]}\n";

    [Fact]
    public void Rule_24_an_event_is_an_input_that_settles() =>
        new Scenario(Bus + "inputs: {line: {active: high, debounce: 1 ms}}\n" + Frame("on: {input: line, after: 500 us}"),
            "for: 6 ms\ninputs: {line: [{at: 1 ms, level: active}, {at: 1500 us, level: inactive}, {at: 2 ms, level: active}]}")
        { Frames = At(3500) }.Holds();

    [Fact]
    public void Rule_24_an_event_asks_for_several_releases() =>
        new Scenario(Line + Frame("on: {input: line}, repeat: 3, spacing: 400 us"), Pulse + "for: 4 ms") { Frames = At(1000, 1400, 1800) }.Holds();

    // The event of 1500 takes the place of 1800.
    [Fact]
    public void Rule_24_a_new_event_replaces_what_is_left() =>
        new Scenario(Line + Frame(Both + ", repeat: 3, spacing: 400 us"), Pulse + "for: 4 ms") { Frames = At(1000, 1400, 1500, 1900, 2300) }.Holds();

    // The event of 1500 waits for 1400 + 300; the repeats keep their spacing, which is none of the gap's business.
    [Fact]
    public void Rule_24_the_gap_delays_an_event() =>
        new Scenario(Line + Frame(Both + ", repeat: 3, spacing: 400 us, gap: 300 us"), Pulse + "for: 4 ms") { Frames = At(1000, 1400, 1700, 2100, 2500) }.Holds();

    // Releases by period count for the gap: 1000 + 700 for the events of 1000 and 1500.
    [Fact]
    public void Rule_24_the_gap_counts_from_releases_by_period() =>
        new Scenario(Line + Frame("every: 1 ms, offset: 900 us, " + Both + ", gap: 700 us"), Pulse + "for: 3 ms") { Frames = At(900, 1600, 1900, 2900) }.Holds();

    // At 1000 the module is in a, where the frame is silent; it starts at 1200 and hears of the edge at 1500.
    [Fact]
    public void Rule_24_only_sending_frames_are_asked() =>
        new Scenario(Line + "modes: {a: {for: 1200 us, then: c}, c: {}}\n" + Frame(Both + ", in: c"), Pulse + "for: 4 ms") { Modes = "1200 c", Frames = At(1500) }.Holds();

    // What an event asked for ends with the modes of the frame: 1800 would come after the change at 1600.
    [Fact]
    public void Rule_24_leaving_the_modes_ends_the_event() =>
        new Scenario(Line + "modes: {a: {for: 1600 us, then: c}, c: {for: 1 ms, then: a}}\n" + Frame("on: {input: line}, repeat: 9, spacing: 400 us, in: a"), Pulse + "for: 4 ms")
        { Modes = "1600 c\n2600 a", Frames = At(1000, 1400) }.Holds();

    [Fact]
    public void Rule_24_starts_and_entries_into_modes_are_events() =>
        new Scenario(Bus + "modes: {a: {for: 1 ms, then: c}, c: {for: 1 ms, then: a}}\n" + Frame("on: [{start: yes, after: 100 us}, {mode: c, after: 200 us}]"), "for: 4 ms")
        { Modes = "1000 c\n2000 a\n3000 c\n4000 a", Frames = At(100, 1200, 3200) }.Holds();

    [Fact]
    public void Rule_25_a_value_by_mode_that_changes_is_an_event_but_not_the_one_at_the_start() =>
        new Scenario(Bus + """
            modes: {a: {for: 1 ms, then: c}, c: {for: 1 ms, then: d}, d: {}}
            frames: {A: {id: 0, length: 1, on: {change: v}, fields: {v: {bit: 0, bits: 8, value: {a: 1, c: 2, d: 2}}}}}
            """, "for: 4 ms") { Modes = "1000 c\n2000 d", Frames = "1000 0x000 02" }.Holds();

    // Heard at 1055 and 2055 with the same value, lost at 3555: two changes, the second held back to 1055 + 3000.
    [Theory]
    [InlineData("", 3555)]
    [InlineData(", gap: 3 ms", 4055)]
    public void Rule_25_a_followed_value_that_changes_is_an_event(string gap, int second) =>
        new Scenario(Bus + "receives: {R: {id: 0x014, timeout: 1500 us, fields: {f: {bit: 0, bits: 8}}}}\n"
            + $"frames: {{A: {{id: 0x200, length: 1, on: {{change: v}}{gap}, fields: {{v: {{bit: 0, bits: 8, follow: R.f, lost: 0xFF}}}}}}}}",
            "for: 5 ms\ntraffic: {b: [{id: 0x014, every: 1 ms, offset: 1 ms, until: 2500 us, data: 01}]}")
        { Frames = $"1055 0x200 01\n{second} 0x200 FF" }.Holds();

    [Fact]
    public void Rule_26_a_release_by_period_and_event_at_once_is_one() =>
        new Scenario(Line + Frame("every: 500 us, on: {input: line}"), Pulse + "for: 1900 us") { Frames = At(0, 500, 1000, 1500) }.Holds();

    // Stalled from 300 to 1300: of 400, 800, 1200 the newest counts.
    [Fact]
    public void Rule_26_of_several_releases_by_an_event_the_newest_counts() =>
        new Scenario(Bus + Frame("on: {start: yes}, repeat: 5, spacing: 400 us"), "for: 3 ms\nstalls: [{from: 300 us, until: 1300 us}]") { Frames = At(0, 1300, 1600), Skipped = "A 2" }.Holds();

    // C is asked by B at once, so at 200 both are released; C has the lower identifier and goes first.
    [Fact]
    public void Rule_26_frames_follow_frames() =>
        new Scenario(Bus + """
            frames:
              A: {id: 0x7FF, length: 8, every: 1 ms, base: FF FF FF FF FF FF FF FF}
              B: {id: 0x014, length: 1, base: 01, on: {frame: A, after: 200 us}}
              C: {id: 0x000, length: 0, on: {frame: B}}
            """, "for: 1900 us")
        {
            Frames = """
                0 0x7FF FFFFFFFFFFFFFFFF 0 123
                200 0x000 - 200 250
                200 0x014 01 253 308
                1000 0x7FF FFFFFFFFFFFFFFFF 1000 1123
                1200 0x000 - 1200 1250
                1200 0x014 01 1253 1308
                """,
        }.Holds();

    // Late at 1300, the release of A counts with its own time, 1000; B is due 200 after it.
    [Fact]
    public void Rule_26_a_late_release_leads_on_from_its_own_time() =>
        new Scenario(Bus + """
            frames:
              A: {id: 0x000, length: 0, every: 1 ms}
              B: {id: 0x014, length: 1, base: 01, on: {frame: A, after: 200 us}}
            """, "for: 1900 us\nstalls: [{from: 500 us, until: 1300 us}]") { Frames = "0 0x000 - 0 50\n200 0x014 01 200 255\n1300 0x000 - 1300 1350\n1300 0x014 01 1353 1408" }.Holds();

    private static string Frame(string keys) => $"frames: {{A: {{id: 0, length: 0, {keys}}}}}\n";

    private static string At(params int[] times) => string.Join('\n', times.Select(t => $"{t} 0x000 - {t} {t + 50}"));
}
