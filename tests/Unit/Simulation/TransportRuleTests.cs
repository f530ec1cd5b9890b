using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// Rules A3 to A7 and A10: answers and requests of many bytes. Frames, numbers, codes of separations and timers are
/// those of ISO 15765-2, from memory; "the 20 bytes" are 62 F1 90 and 17 characters, which the standard's scheme
/// splits into 6, 7 and 7.
/// </summary>
public sealed class TransportRuleTests
{
    private const string Ask = "10 7E0 0322F190\n";

    private const string First = "after 0 101462F190444550\n";

    [Fact]
    public void A6_the_20_bytes_are_a_first_and_two_consecutive_frames() =>
        new Exchange("", Ask + "20 7E0 300000", First + "after 0 214F543030303030\nthen 0 2230304C4F434F31").Holds();

    [Theory]
    [InlineData("01", 1_000)]
    [InlineData("7F", 127_000)]
    [InlineData("F1", 100)]
    [InlineData("F9", 900)]
    [InlineData("80", 127_000)]
    [InlineData("F0", 127_000)]
    [InlineData("FA", 127_000)]
    public void A7_separations_pass_between_consecutive_frames(string code, int us) =>
        new Exchange("", Ask + $"20 7E0 3000{code}", First + $"after 0 214F543030303030\nthen {us} 2230304C4F434F31").Holds();

    [Fact]
    public void A7_a_block_size_of_1_waits_behind_every_frame() =>
        new Exchange("", Ask + "20 7E0 300100\n500 7E0 300100", First + "after 0 214F543030303030\nafter 0 2230304C4F434F31").Holds();

    [Fact]
    public void A7_no_flow_control_is_awaited_behind_the_last_frame() =>
        new Exchange("", Ask + "20 7E0 300200\n30 7E0 023E00", First + "after 0 214F543030303030\nthen 0 2230304C4F434F31\nafter 0 027E00").Holds();

    // 62 01 02 and 122 characters: 125 bytes, 6 and 17 times 7: numbers 1 to 15, 0, 1.
    [Fact]
    public void A6_numbers_go_on_at_0_behind_15()
    {
        const string Letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZABCDEFGHIJKLMNOPQRSTUVWXYZABCDEFGHIJKLMNOPQRSTUVWXYZABCDEFGHIJKLMNOPQRSTUVWXYZABCDEFGHIJKLMNOPQR";
        var bytes = System.Text.Encoding.ASCII.GetBytes(Letters);
        var lines = Enumerable.Range(0, 17).Select(i => $"* 2{(i + 1) % 16:X}{Convert.ToHexString(bytes.Skip(3 + (7 * i)).Take(7).ToArray())}");
        new Exchange("", "10 7E0 03220102\n20 7E0 300000", $"* 107D620102414243\n{string.Join('\n', lines)}").Holds();
    }

    [Fact]
    public void A7_a_wait_starts_the_second_anew() =>
        new Exchange("", Ask + "900 7E0 310000\n1800 7E0 310000\n2700 7E0 300000", First + "after 0 214F543030303030\nthen 0 2230304C4F434F31") { For = 4_000 }.Holds();

    [Fact]
    public void A7_without_a_flow_control_the_answer_ends_after_a_second() =>
        new Exchange("", Ask + "1015 7E0 300000\n1020 7E0 023E00", First + "after 0 027E00") { For = 2_000 }.Holds();

    [Fact]
    public void A6_requests_are_ignored_while_an_answer_waits() =>
        new Exchange("", Ask + "500 7E0 023E00\n510 7E0 1010220102010201\n520 7E0 21010201\n530 7E0 300000", First + "after 0 214F543030303030\nthen 0 2230304C4F434F31").Holds();

    [Theory]
    [InlineData("320000")]
    [InlineData("330000")]
    [InlineData("3F0000")]
    public void A7_overflow_and_unknown_flow_controls_end_the_answer(string flow) =>
        new Exchange("", Ask + $"20 7E0 {flow}\n30 7E0 300000\n40 7E0 023E00", First + "after 0 027E00").Holds();

    // 22 and 5 identifiers are 11 bytes: 6 and 5. A consecutive frame that ends before them does not count.
    [Fact]
    public void A4_a_request_of_11_bytes_is_taken_in_two_frames() =>
        new Exchange("block size: 8; separation: 5 ms; padding: 0xCC", "10 7E0 100B22F187000000\n20 7E0 21000000F1\n30 7E0 21000000F187\n50 7E0 300000",
            "after 0 300805CCCCCCCCCC\nafter 0 100D62F187010203\nafter 0 2104F18701020304").Holds();

    [Fact]
    public void A5_flow_controls_come_after_every_block() =>
        new Exchange("block size: 1; separation: 300 us", "10 7E0 101322F187000000\n20 7E0 2100000000000000\n30 7E0 22000000000000",
            "after 0 3001F3\nafter 0 3001F3\nafter 0 0762F18701020304").Holds();

    // 19 bytes with the numbers 1 and 3: the reception ends; so it does after a second.
    [Fact]
    public void A5_a_wrong_number_or_a_missing_frame_ends_the_reception() =>
        new Exchange("", "10 7E0 101322F187000000\n20 7E0 2100000000000000\n30 7E0 23000000000000\n40 7E0 22000000000000\n" +
            "50 7E0 101322F187000000\n60 7E0 2100000000000000\n1065 7E0 22000000000000\n1100 7E0 023E00",
            "after 0 300000\nafter 0 300000\nafter 0 027E00")
        {
            For = 2_000,
        }.Holds();

    [Theory]
    [InlineData("1041220000000000")]
    [InlineData("1FFF220000000000")]
    [InlineData("1000000010000000")]
    [InlineData("1000FFFFFFFF0000")]
    public void A4_more_than_64_bytes_are_an_overflow(string first) =>
        new Exchange("padding: 0", $"10 7E0 {first}\n20 7E0 2100000000000000\n30 7E0 023E00", "after 0 3200000000000000\nafter 0 027E000000000000").Holds();

    [Fact]
    public void A4_a_new_request_takes_the_place_of_the_one_before() =>
        new Exchange("", "10 7E0 101322F187000000\n20 7E0 023E00\n30 7E0 2100000000000000\n40 7E0 101322F187000000\n50 7E0 100922F187000000\n60 7E0 21000000",
            "after 0 300000\nafter 0 027E00\nafter 0 300000\nafter 0 300000\nafter 0 0762F18701020304").Holds();

    // Three frames fill the mailboxes; two others keep them there until 30 ms, but let the tester through.
    [Fact]
    public void A4_what_no_controller_has_taken_is_dropped_for_a_new_request() =>
        new Exchange("", "10 7E0 101322F187000000\n20 7E0 023E00", "* 027E00")
        {
            Frames = "A: {id: 0x7F1, length: 0, every: 1000 s}, B: {id: 0x7F2, length: 0, every: 1000 s}, C: {id: 0x7F3, length: 0, every: 1000 s}",
            Around = "{id: 0x7E4, every: 50 us, until: 30 ms};{id: 0x7E5, every: 50 us, offset: 25 us, until: 30 ms}",
            Dropped = 1,
        }.Holds();

    [Theory]
    [InlineData("00")]
    [InlineData("0811223344556677")]
    [InlineData("033E00")]
    [InlineData("10082200000000")]
    [InlineData("1007220000000000")]
    [InlineData("1000000000100000")]
    [InlineData("1000000000070000")]
    [InlineData("2100000000000000")]
    [InlineData("3000")]
    [InlineData("300000")]
    [InlineData("4100")]
    [InlineData("FF")]
    public void A3_malformed_and_unexpected_frames_are_ignored(string data) =>
        new Exchange("", $"10 7E0 {data}\n20 7E0 023E00\n30 7E0 0322F190\n40 7E0 {(data is "300000" ? "3000" : data)}\n50 7E0 300000",
            "after 0 027E00\nafter 0 101462F190444550\nafter 0 214F543030303030\nthen 0 2230304C4F434F31").Holds();
}
