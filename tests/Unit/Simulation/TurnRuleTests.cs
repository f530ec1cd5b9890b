using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rule 27: payloads sent in turn.</summary>
public sealed class TurnRuleTests
{
    private const string Bus = "buses: {b: {rate: 1 Mbit/s}}\n";

    [Theory]
    [InlineData("repeat", "01")]
    [InlineData("hold", "03")]
    public void Rule_27_payloads_take_turns(string then, string fourth) =>
        new Scenario(Payloads($"then: {then}"), "for: 3500 us") { Frames = $"0 0x000 01\n1000 0x000 02\n2000 0x000 03\n3000 0x000 {fourth}" }.Holds();

    // Sends in a: until 1500, and again from 2500 on.
    [Fact]
    public void Rule_27_a_new_start_begins_with_the_first() =>
        new Scenario("modes: {a: {for: 1500 us, then: c}, c: {for: 1 ms, then: a}}\n" + Payloads("in: a"), "for: 3600 us")
        { Modes = "1500 c\n2500 a", Frames = "0 0x000 01\n1000 0x000 02\n2500 0x000 01\n3500 0x000 02" }.Holds();

    // Blocked from 500 to 3500: 02 is in a mailbox, the release of 2000 is refused and replaced by that of 3000; it
    // is 03 all the same.
    [Fact]
    public void Rule_27_the_turn_moves_on_when_a_payload_is_accepted() =>
        new Scenario(Payloads("then: repeat"), "for: 4500 us\nblocked: {b: {from: 500 us, until: 3500 us}}")
        { Frames = "0 0x000 01\n1000 0x000 02 3500\n* 0x000 03\n4000 0x000 01", Skipped = "A 1" }.Holds();

    [Fact]
    public void Rule_27_skipped_releases_do_not_move_the_turn() =>
        new Scenario(Payloads("then: repeat"), "for: 5500 us\nstalls: [{from: 500 us, until: 3500 us}]")
        { Frames = "0 0x000 01\n3500 0x000 02\n4000 0x000 03\n5000 0x000 01", Skipped = "A 2" }.Holds();

    [Fact]
    public void Rule_27_a_counter_of_one_page_moves_with_it() =>
        new Scenario(Pages("counter: {}"), "for: 4500 us") { Frames = "0 0x000 00\n1000 0x000 0F\n2000 0x000 10\n3000 0x000 0F\n4000 0x000 20" }.Holds();

    // Stalled from 1500 to 4500: 2000 and 3000 are skipped while it is the first page's turn, whose counter stood at 1.
    [Fact]
    public void Rule_27_skipped_releases_count_for_the_page_whose_turn_it_is() =>
        new Scenario(Pages("counter: {advance: slot}"), "for: 6500 us\nstalls: [{from: 1500 us, until: 4500 us}]")
        { Frames = "0 0x000 00\n1000 0x000 0F\n4500 0x000 30\n5000 0x000 0F\n6000 0x000 40", Skipped = "A 2" }.Holds();

    private static string Payloads(string keys) => Bus + $"frames: {{A: {{id: 0, length: 1, every: 1 ms, payloads: [01, 02, 03], {keys}}}}}\n";

    private static string Pages(string counter) =>
        Bus + $"frames: {{A: {{id: 0, length: 1, every: 1 ms, pages: [{{fields: {{n: {{bit: 4, bits: 4, {counter}}}}}}}, {{base: 0F}}]}}}}\n";
}
