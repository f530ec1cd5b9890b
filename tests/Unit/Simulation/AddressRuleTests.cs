using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// Rules J1 to J4: one frame at a time, claims, held frames, lost addresses. Waits and delays are those of J1939-81,
/// from memory. 18EEFF17 and the NAME last 138 us on the wire at 1 Mbit/s or a little more with stuff bits.
/// </summary>
public sealed class AddressRuleTests
{
    private const string Own = "Own: {id: 0x18F0A417, length: 1, every: 50 ms, offset: 200 us, fields: {n: {bit: 0, bits: 8, counter: {} } } }";

    // Every NAME of 64 ones is higher, the one of zeros lower.
    private const string Higher = "18EEFF17 FFFFFFFFFFFFFFFF";
    private const string Lower = "18EEFF17 0000000000000000";

    [Fact]
    public void J2_the_claim_is_the_first_frame_and_frames_with_the_address_follow() =>
        new Network("", $"at 0 {Network.Claim}\nat 200 18F0A417 00\nat 50200 18F0A417 01") { Frames = Own, For = 60 }.Holds();

    // The release at 200 us comes and goes without a count; that at 250200 us is behind claim + 250 ms, at 250100 it is not.
    [Theory]
    [InlineData("127", 200, "at 200 18F0A47F 00\nat 50200 18F0A47F 01\nat 100200 18F0A47F 02\nat 150200 18F0A47F 03\nat 200200 18F0A47F 04\nat 250200 18F0A47F 05")]
    [InlineData("128", 200, "at 250200 18F0A480 00")]
    [InlineData("128", 100, "")]
    [InlineData("247", 200, "at 250200 18F0A4F7 00")]
    [InlineData("248", 200, "at 200 18F0A4F8 00\nat 50200 18F0A4F8 01\nat 100200 18F0A4F8 02\nat 150200 18F0A4F8 03\nat 200200 18F0A4F8 04\nat 250200 18F0A4F8 05")]
    public void J2_addresses_128_to_247_wait_250_ms_for_objections(string address, int offset, string frames)
    {
        var hex = int.Parse(address).ToString("X2");
        new Network("", $"at 0 18EEFF{hex} {Network.Name}\n{frames}")
        {
            Address = address,
            Frames = $"Own: {{id: 0x18F0A4{hex}, length: 1, every: 50 ms, offset: {offset} us, fields: {{n: {{bit: 0, bits: 8, counter: {{}} }} }} }}",
            For = 260,
        }.Holds();
    }

    // The second claim leaves at 100.3 ms or so; what counts is the first.
    [Fact]
    public void J2_a_further_claim_does_not_prolong_the_wait() =>
        new Network("100 18EEFF80 FFFFFFFFFFFFFFFF", $"at 0 18EEFF80 {Network.Name}\nafter 0 18EEFF80 {Network.Name}\nat 250200 18F0A480 00")
        {
            Address = "128",
            Frames = Own.Replace("A417", "A480"),
            For = 260,
        }.Holds();

    [Fact]
    public void J2_a_node_claims_anew_whenever_its_modes_are_entered() =>
        new Network("", $"at 0 {Network.Claim}\nat 200 18F0A417 00\nat 60000 {Network.Claim}\nat 60200 18F0A417 01")
        {
            Frames = Own.Replace("every", "in: on, every"),
            Description = "modes: {on: {for: 40 ms, then: off}, off: {for: 20 ms, then: on}}",
            Settings = "in: on",
            For = 80,
        }.Holds();

    // Frame 1 shows that the board steps; the node rests from 10 to 30 ms.
    [Fact]
    public void J2_a_node_claims_anew_behind_a_silence() =>
        new Network("20 18EAFFF9 00EE00", $"at 0 {Network.Claim}\nat 200 18F0A417 00\nat 30000 {Network.Claim}\nat 50200 18F0A417 01")
        {
            Frames = Own,
            Description = "inputs: {go: {active: high}}",
            Guards = "{enable: {input: go}}",
            More = "inputs: {go: [{at: 0 ms, level: active}, {at: 10 ms, level: inactive}, {at: 30 ms, level: active}]}",
            For = 60,
        }.Holds();

    [Fact]
    public void J3_only_29_bit_identifiers_with_the_address_are_held() =>
        new Network("", "at 0 18EEFF80 4523612400000080\nat 0 18F0A418 _\nat 0 780 _\nat 250200 18F0A480 00")
        {
            Address = "128",
            Frames = Own.Replace("A417", "A480") + ", Other: {id: 0x18F0A418, length: 0, every: 1 s}, Eleven: {id: 0x780, length: 0, every: 1 s}",
            For = 260,
        }.Holds();

    // A, B and C fill the mailboxes while others keep the bus; a lower NAME comes at 20 ms. Own, released at 15 ms, is skipped.
    [Fact]
    public void J3_what_is_pending_when_the_address_is_lost_is_skipped() =>
        new Network($"20 {Lower}", $"at 0 {Network.Claim}\n* 1FFF0001 _\n* 1FFF0002 _\n* 1FFF0003 _\n* 18EEFFFE {Network.Name}")
        {
            Frames = "A: {id: 0x1FFF0001, length: 0, every: 1000 s, offset: 6 ms}, B: {id: 0x1FFF0002, length: 0, every: 1000 s, offset: 6 ms}, C: {id: 0x1FFF0003, length: 0, every: 1000 s, offset: 6 ms}, "
                + "Own: {id: 0x1FFEA417, length: 1, every: 1 s, offset: 15 ms, fields: {n: {bit: 0, bits: 8, counter: {advance: slot} } } }",
            Around = "{id: 0x7E4, every: 50 us, offset: 5 ms, until: 30 ms};{id: 0x7E5, every: 50 us, offset: 5025 us, until: 30 ms}",
            Skipped = "Own 1",
        }.Holds();

    [Fact]
    public void J3_a_channel_whose_answers_carry_a_lost_address_is_silent() =>
        new Network($"10 18DA17F1 023E00\n20 {Lower}\n200 18DA17F1 023E00", $"at 0 {Network.Claim}\nafter 0 18DAF117 027E00\n* 18EEFFFE {Network.Name}")
        {
            Description = "diagnostics: {t: {request: 0x18DA17F1, response: 0x18DAF117} }",
        }.Holds();

    // The NAME is 0x8000000024612345: the top bytes decide first, and equal NAMEs are lost.
    [Theory]
    [InlineData("4623612400000080", true)]
    [InlineData("0000000000000081", true)]
    [InlineData("4423612400000080", false)]
    [InlineData("FFFFFFFFFFFFFF7F", false)]
    [InlineData(Network.Name, false)]
    public void J4_the_lower_name_keeps_the_address(string other, bool keeps) =>
        new Network($"10 18EEFF17 {other}", $"at 0 {Network.Claim}\n" + (keeps ? $"after 0 {Network.Claim}" : $"after 58200 18EEFFFE {Network.Name}")).Holds();

    [Fact]
    public void J4_the_priority_of_a_claim_says_nothing_and_other_addresses_are_others_business() =>
        new Network("10 08EEFF17 FFFFFFFFFFFFFFFF\n20 18EEFF18 0000000000000000\n30 18EE1717 0000000000000000\n40 18EEFF17 00000000000000",
            $"at 0 {Network.Claim}\nafter 0 {Network.Claim}").Holds();

    // Lower and upper half of the NAME give the seed 0xA4612345, xorshift 13, 17, 5 ends with 97, 175 and 22: times 600 us.
    [Fact]
    public void J4_J5_a_node_that_has_lost_says_so_after_delays_from_its_name() =>
        new Network($"10 {Lower}\n200 18EAFFF9 00EE00\n400 18EAFFF9 00EE00\n500 18EA17F9 00EE00\n510 18EAFFF9 DAFE00\n520 {Higher}\n530 {Lower}",
            $"at 0 {Network.Claim}\nat 200 18F0A417 00\nafter 58200 18EEFFFE {Network.Name}\nafter 105000 18EEFFFE {Network.Name}\nafter 13200 18EEFFFE {Network.Name}")
        {
            Frames = Own,
        }.Holds();

    // The lower claim ends at 10143 us. Asked twice during the delay: one frame.
    [Fact]
    public void J5_one_delay_serves_all_who_ask_meanwhile() =>
        new Network($"10 {Lower}\n20 18EAFFF9 00EE00\n30 18EAFFF8 00EE00", $"at 0 {Network.Claim}\nat 68343 18EEFFFE {Network.Name}").Holds();

    // Two halves that cancel out would leave the seed 0; it is 1, and xorshift gives 0x00042021: 33 times 600 us.
    [Fact]
    public void J4_a_seed_of_0_is_1() =>
        new Network($"10 {Lower}", $"at 0 18EEFF17 0100000001000000\nafter 19800 18EEFFFE 0100000001000000") { WithName = "01 00 00 00 01 00 00 00" }.Holds();

    // Stalled from 5 to 20 ms: at 20 ms five things are wanted; each waits for the one before to leave.
    [Fact]
    public void J1_claim_refusal_answers_and_transfer_go_one_by_one() =>
        new Network("6 18EAFFF9 EBFE00\n7 18EA17F9 DBFE00\n8 18EA17F9 DAFE00\n9 18EA17F9 010000\n10 18EA17F8 020000\n11 18EA17F9 00EE00",
            $"at 0 {Network.Claim}\nat 20000 {Network.Claim}\nthen 0 18E8FF17 01FFFFFFF8020000\nthen 0 18FEDA17 01312A\nthen 0 18FEDB17 1122334455667788\nthen 0 1CECFF17 20140003FFEBFE00")
        {
            More = "stalls: [{from: 5 ms, until: 20 ms}]",
            For = 40,
        }.Holds();

    // A, B and C fill the mailboxes; the opening that F9 asked for waits, and F9 ends the transfer before a controller has it.
    [Fact]
    public void J1_what_is_not_wanted_any_more_is_dropped() =>
        new Network("10 18EA17F9 EBFE00\n15 1CEC17F9 FF01FFFFFFEBFE00", $"at 0 {Network.Claim}\n* 1FFF0001 _\n* 1FFF0002 _\n* 1FFF0003 _")
        {
            Frames = "A: {id: 0x1FFF0001, length: 0, every: 1000 s, offset: 6 ms}, B: {id: 0x1FFF0002, length: 0, every: 1000 s, offset: 6 ms}, C: {id: 0x1FFF0003, length: 0, every: 1000 s, offset: 6 ms}",
            Around = "{id: 0x7E4, every: 50 us, offset: 5 ms, until: 30 ms};{id: 0x7E5, every: 50 us, offset: 5025 us, until: 30 ms}",
            Skipped = "node 1",
        }.Holds();

    // Another station with the node's address is the business of J4; one with a described identifier is that of G2.
    [Fact]
    public void G2_claims_are_no_foreign_senders_but_described_frames_are() =>
        new Network($"10 {Higher}\n20 18F0A417 00", $"at 0 {Network.Claim}\nat 200 18F0A417 00\nafter 0 {Network.Claim}")
        {
            Frames = Own,
            Guards = "{foreign sender: silent}",
        }.Holds();
}
