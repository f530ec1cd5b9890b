using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// Rules J6 to J9: answers in packets. Frames are those of J1939-21, from memory, and of the tests of pretty_j1939
/// (nmfta-repo/pretty_j1939, tests/test_j1939_tp.py), which take such transfers apart; their priority is 6, ours the 7
/// that J1939-21 names. 1.05 s for a hold: J1939-21, 5.10.2.4, as quoted on the mailing list linux-can, 21 April 2026.
/// </summary>
public sealed class TransferRuleTests
{
    private const string Ask = "10 18EA17F9 EBFE00\n";

    private const string Open = $"at 0 {Network.Claim}\nafter 0 1CECF917 10140003FFEBFE00\n";

    private static readonly string[] s_packets = ["1CEBF917 014445504F542A4C", "1CEBF917 024946542D322A30", "1CEBF917 0330303431372AFF"];

    // The VIN of pretty_j1939's test: 20 11 00 03 FF EB FE 00, then 7, 7 and 3 bytes with four FF.
    [Fact]
    public void J7_the_17_bytes_of_pretty_j1939_go_to_everybody_in_three_packets() =>
        new Network("10 18EAFFF9 EBFE00", $"at 0 {Network.Claim}\nafter 0 1CECFF17 20110003FFEBFE00\nthen 50000 1CEBFF17 0131323334353637\nthen 50000 1CEBFF17 0238393031323334\nthen 50000 1CEBFF17 03353637FFFFFFFF")
        {
            Answers = "0xFEEB: {text: \"12345678901234567\"}",
        }.Holds();

    // The same source's README and tests have 20 0E 00 02 FF 04 F0 00 for 14 bytes of group F004: two packets, both full.
    [Fact]
    public void J7_14_bytes_fill_two_packets() =>
        new Network("10 18EAFFF9 04F000", $"at 0 {Network.Claim}\nafter 0 1CECFF17 200E0002FF04F000\nthen 200000 1CEBFF17 0101020304050607\nthen 200000 1CEBFF17 0208090A0B0C0D0E")
        {
            Answers = "0xF004: {bytes: 01 02 03 04 05 06 07 08 09 0A 0B 0C 0D 0E}",
            Settings = "spacing: 200 ms",
        }.Holds();

    // The 10 bytes of group FECA of pretty_j1939's test: 10 0A 00 02 FF CA FE 00.
    [Fact]
    public void J8_the_10_bytes_of_pretty_j1939_go_to_one_node() =>
        new Network("10 18EA1701 CAFE00\n20 1CEC1701 110201FFFFCAFE00\n30 1CEC1701 130A0002FFCAFE00\n2000 18EA1701 DAFE00",
            $"at 0 {Network.Claim}\nafter 0 1CEC0117 100A0002FFCAFE00\nafter 0 1CEB0117 0101020304050607\nthen 0 1CEB0117 0208090AFFFFFFFF\nafter 0 18FEDA17 01312A")
        {
            Answers = "0xFECA: {bytes: 01 02 03 04 05 06 07 08 09 0A}, 0xFEDA: {bytes: 01 31 2A}",
            For = 3_000,
        }.Holds();

    [Fact]
    public void J8_packets_go_as_far_as_they_are_let_go_and_again_when_asked() =>
        new Network(Ask + "20 1CEC17F9 110101FFFFEBFE00\n30 1CEC17F9 11FF02FFFFEBFE00\n40 1CEC17F9 110103FFFFEBFE00\n50 1CEC17F9 13140003FFEBFE00",
            Open + $"after 0 {s_packets[0]}\nafter 0 {s_packets[1]}\nthen 0 {s_packets[2]}\nafter 0 {s_packets[2]}")
        { For = 2_000 }.Holds();

    [Fact]
    public void J8_the_longest_answer_has_255_packets()
    {
        var text = string.Concat(Enumerable.Range(0, 1785).Select(i => (char)('A' + (i % 23))));
        var bytes = System.Text.Encoding.ASCII.GetBytes(text);
        var packets = bytes.Chunk(7).Select((p, i) => $"{(i is 0 ? "after" : "then")} 0 1CEBF917 {i + 1:X2}{Convert.ToHexString(p)}");
        new Network(Ask + "20 1CEC17F9 11FF01FFFFEBFE00\n200 1CEC17F9 13F906FFFFEBFE00", $"at 0 {Network.Claim}\nafter 0 1CECF917 10F906FFFFEBFE00\n{string.Join('\n', packets)}")
        {
            Answers = $"0xFEEB: {{text: {text}}}",
        }.Holds();
    }

    // 9 bytes of a group with a destination, page 1.
    [Fact]
    public void J8_groups_with_a_destination_are_transferred_as_well() =>
        new Network("10 18EA17F9 00EF01\n20 1CEC17F9 110201FFFF00EF01\n30 1CEC17F9 13090002FF00EF01",
            $"at 0 {Network.Claim}\nafter 0 1CECF917 10090002FF00EF01\nafter 0 1CEBF917 0101020304050607\nthen 0 1CEBF917 020809FFFFFFFFFF").Holds();

    // 1.25 s from the leaving of the opening, and from that of the last packet.
    [Fact]
    public void J9_a_receiver_that_is_silent_ends_the_transfer_after_1250_ms() =>
        new Network(Ask + "2000 18EA17F9 DAFE00", Open + "then 1250000 1CECF917 FF03FFFFFFEBFE00\nafter 0 18FEDA17 01312A") { For = 3_000 }.Holds();

    [Fact]
    public void J9_so_it_does_behind_packets() =>
        new Network(Ask + "20 1CEC17F9 110301FFFFEBFE00", Open + $"after 0 {s_packets[0]}\nthen 0 {s_packets[1]}\nthen 0 {s_packets[2]}\nthen 1250000 1CECF917 FF03FFFFFFEBFE00") { For = 2_000 }.Holds();

    [Fact]
    public void J8_a_hold_lasts_1050_ms() =>
        new Network(Ask + "1200 1CEC17F9 1100FFFFFFEBFE00\n2200 1CEC17F9 1100FFFFFFEBFE00", Open + "after 1050000 1CECF917 FF03FFFFFFEBFE00") { For = 4_000 }.Holds();

    // The second permission has priority 6 and comes between the first packet and the second, which is in its mailbox already.
    [Fact]
    public void J9_a_permission_while_packets_are_due_ends_the_transfer() =>
        new Network(Ask + "20 1CEC17F9 11FF01FFFFEBFE00\n20.16 18EC17F9 11FF01FFFFEBFE00", Open + $"after 0 {s_packets[0]}\n* {s_packets[1]}\nthen 0 1CECF917 FF04FFFFFFEBFE00") { For = 3_000 }.Holds();

    [Theory]
    [InlineData("1CEC17F8 110301FFFFEBFE00")]
    [InlineData("1CEC17F9 110301FFFFEBFE01")]
    [InlineData("1CEC17F9 110300FFFFEBFE00")]
    [InlineData("1CEC17F9 110104FFFFEBFE00")]
    [InlineData("1CEC17F9 120301FFFFEBFE00")]
    [InlineData("1CEC17F9 110301FFFFEBFE")]
    [InlineData("1CECFFF9 110301FFFFEBFE00")]
    [InlineData("1CEC17F9 10140003FFEBFE00")]
    [InlineData("1CEB17F9 0102030405060708")]
    public void J8_J9_all_else_is_ignored(string frame) =>
        new Network(Ask + $"20 {frame}", Open + "then 1250000 1CECF917 FF03FFFFFFEBFE00") { For = 2_000 }.Holds();

    [Theory]
    [InlineData("FF01FFFFFFEBFE00")]
    [InlineData("13140003FFEBFE00")]
    public void J8_the_receiver_ends_a_transfer_at_any_time(string end) =>
        new Network(Ask + $"20 1CEC17F9 {end}\n30 1CEC17F9 110301FFFFEBFE00", Open) { For = 2_000 }.Holds();

    // During the transfer to F9 others are refused, F9 itself and requests to everybody get nothing.
    [Fact]
    public void J6_one_transfer_at_a_time() =>
        new Network(Ask + "20 18EA17F8 EBFE00\n30 18EA17F9 EBFE00\n40 18EAFFF8 EBFE00\n50 18EA17F9 00EF01\n60 18EA17F9 DAFE00\n70 1CEC17F9 FF01FFFFFFEBFE00\n80 18EA17F8 EBFE00",
            Open + "after 0 18E8FF17 03FFFFFFF8EBFE00\nafter 0 18E8FF17 03FFFFFFF900EF01\nafter 0 18FEDA17 01312A\nafter 0 1CECF817 10140003FFEBFE00")
        { For = 200 }.Holds();

    [Fact]
    public void J6_during_one_to_everybody_nobody_needs_another_of_the_same() =>
        new Network("10 18EAFFF9 EBFE00\n20 18EA17F8 EBFE00\n30 18EAFFF8 EBFE00\n40 18EA17F8 00EF01",
            $"at 0 {Network.Claim}\nafter 0 1CECFF17 20140003FFEBFE00\nafter 0 18E8FF17 03FFFFFFF800EF01\n* {s_packets[0].Replace("F917", "FF17")}\nthen 50000 {s_packets[1].Replace("F917", "FF17")}\nthen 50000 {s_packets[2].Replace("F917", "FF17")}").Holds();

    [Fact]
    public void J4_a_lost_address_ends_the_transfer_without_a_word() =>
        new Network("10 18EAFFF9 EBFE00\n80 18EEFF17 0000000000000000", $"at 0 {Network.Claim}\nafter 0 1CECFF17 20140003FFEBFE00\nthen 50000 {s_packets[0].Replace("F917", "FF17")}\nafter 58200 18EEFFFE {Network.Name}").Holds();
}
