using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// Rules A3 to A6 and A10 with CAN FD, bytes written out from the scheme of ISO 15765-2:2016, from memory: frames of more
/// than 8 bytes have 00 and the length of a single frame in front, are as long as a data length code allows, and are
/// filled up with CC unless something else is described. "The 20 bytes" are those of <see cref="TransportRuleTests"/>.
/// </summary>
public sealed class FdTransportRuleTests
{
    private const string Part = "0762F18701020304";

    // F187 four times, read together.
    private const string Four = "001962F18701020304F18701020304F18701020304F18701020304CCCCCCCCCC";

    [Fact]
    public void A6_the_20_bytes_are_one_frame_of_24() =>
        Fd("", "10 7E0 0322F190", "after 0 001462F1904445504F54303030303030304C4F434F31CCCC").Holds();

    [Fact]
    public void A6_the_20_bytes_are_two_frames_of_12() =>
        Fd("frame length: 12", "10 7E0 0322F190\n20 7E0 300000", "after 0 101462F1904445504F543030\nafter 0 2130303030304C4F434F31CC").Holds();

    [Fact]
    public void A6_frames_of_8_bytes_are_those_of_classic_can() =>
        Fd("frame length: 8", "10 7E0 0322F190\n20 7E0 300000", "after 0 101462F190444550\nafter 0 214F543030303030\nthen 0 2230304C4F434F31").Holds();

    [Theory]
    [InlineData("", "0662F187010203")]
    [InlineData("padding: 0x55", "0662F18701020355")]
    [InlineData("frame length: 12", "0662F187010203")]
    public void A10_up_to_7_bytes_need_no_second_byte_of_length(string settings, string answer) =>
        (Fd(settings, "10 7E0 0322F187", $"after 0 {answer}") with { Identifiers = "{0xF187: {bytes: 01 02 03}}" }).Holds();

    [Fact]
    public void A10_longer_frames_are_filled_up_as_described() =>
        (Fd("padding: 0x55", "10 7E0 0322F187", "after 0 000862F18701020304055555") with { Identifiers = "{0xF187: {bytes: 01 02 03 04 05}}" }).Holds();

    // A frame of n bytes holds a single frame of n - 2; one byte more is a first frame with n - 2 and a consecutive one with 1.
    [Theory]
    [InlineData(12)]
    [InlineData(16)]
    [InlineData(20)]
    [InlineData(24)]
    [InlineData(32)]
    [InlineData(48)]
    [InlineData(64)]
    public void A6_the_longest_single_frame_has_2_bytes_less_than_the_frame(int length)
    {
        var answer = $"620102{Many("41", length - 5)}";
        (Fd($"frame length: {length}", "10 7E0 03220102", $"after 0 00{length - 2:X2}{answer}") with { Identifiers = Letters(length - 5) }).Holds();
        (Fd($"frame length: {length}", "10 7E0 03220102\n20 7E0 300000", $"after 0 10{length - 1:X2}{answer}\nafter 0 2141") with { Identifiers = Letters(length - 4) }).Holds();
    }

    // 200 bytes in frames of 12: 10, then 17 times 11, then 3: numbers 1 to 15, 0, 1, 2.
    [Fact]
    public void A6_numbers_go_on_at_0_behind_15()
    {
        var answer = $"620102{Many("41", 120)}0103{Many("42", 75)}";
        var lines = Enumerable.Range(1, 17).Select(i => $"* 2{i % 16:X}{answer.Substring((10 + (11 * (i - 1))) * 2, 22)}");
        (Fd("frame length: 12", "10 7E0 052201020103\n20 7E0 300000", $"* 10C8{answer[..20]}\n{string.Join('\n', lines)}\n* 22424242")
            with
        { Identifiers = $"{{0x0102: {{text: {new string('A', 120)}}}, 0x0103: {{text: {new string('B', 75)}}}}}" }).Holds();
    }

    // 43 bytes: 10 and three times 11.
    [Fact]
    public void A6_blocks_and_separations_are_kept_to() =>
        (Fd("frame length: 12", "10 7E0 03220102\n20 7E0 300214\n100 7E0 3000F5",
            $"after 0 102B620102{Many("41", 7)}\nafter 0 21{Many("41", 11)}\nthen 20000 22{Many("41", 11)}\nafter 0 23{Many("41", 11)}") with
        { Identifiers = Letters(40) }).Holds();

    // 9 bytes in 12; of 10 the last is no whole identifier.
    [Theory]
    [InlineData("000922F187F187F187F187CC", Four)]
    [InlineData("000A22F187F187F187F18700", "037F2213")]
    [InlineData("000922F187F187F187F187CCCCCCCCCC", Four)]
    public void A3_requests_in_one_long_frame_are_taken(string request, string answer) => Fd("", $"10 7E0 {request}", $"after 0 {answer}").Holds();

    // A length below 8, or above 10 in 12 bytes; none; one in the first byte; in 8 bytes; first frames that a single one could replace.
    [Theory]
    [InlineData("000722F187F187F187CCCCCC")]
    [InlineData("000B22F187F187F187F187F1")]
    [InlineData("0000CCCCCCCCCCCCCCCCCCCC")]
    [InlineData("033E00CCCCCCCCCCCCCCCCCC")]
    [InlineData("0922F187F187F187F187CCCC")]
    [InlineData("00023E00")]
    [InlineData("100A22F187F187F187F187CC")]
    [InlineData("100E22F187F187F187F187F187F187F1")]
    [InlineData("100000000800000000000000")]
    public void A3_malformed_long_frames_are_ignored(string data) => Fd("", $"10 7E0 {data}\n20 7E0 023E00", "after 0 027E00").Holds();

    // 22 and 7 times F187: 15 bytes, 10 and 5.
    [Theory]
    [InlineData("", "300000", "037F2214")]
    [InlineData("padding: 0xCC", "300000CCCCCCCCCC", "037F2214CCCCCCCC")]
    [InlineData("frame length: 8", "300000", "037F2214")]
    public void A4_a_request_in_two_frames_of_12_is_taken(string settings, string flow, string answer) =>
        (Fd(settings, "10 7E0 100F22F187F187F187F187F1\n20 7E0 2187F187F187", $"after 0 {flow}\nafter 0 {answer}") with { Identifiers = "{0xF187: {bytes: 01}}" }).Holds();

    // 63 bytes are the fewest, 64 the most that may begin in a frame of 64.
    [Theory]
    [InlineData("103E", "2187", "")]
    [InlineData("103F", "2187", "after 0 300000\nafter 0 037F2214")]
    [InlineData("1040", "218700", "after 0 300000\nafter 0 037F2213")]
    [InlineData("1041", "218700F1", "after 0 320000")]
    public void A4_a_request_may_begin_in_a_frame_of_64(string head, string rest, string module) =>
        Fd("", $"10 7E0 {head}22{Many("F187", 30)}F1\n20 7E0 {rest}", module).Holds();

    // 22 bytes begin in 12: 11 follow, neither in 16 bytes nor 7 of them in 8; then 1, not in 16, but short or filled up.
    [Theory]
    [InlineData("22F1")]
    [InlineData("22F1CCCCCCCCCCCCCCCCCCCC")]
    public void A5_consecutive_frames_are_as_long_as_the_first_one(string last)
    {
        var rest = Many("F187", 5);
        Fd("", $"10 7E0 101622F187F187F187F187F1\n20 7E0 2187{rest}CCCCCCCC\n30 7E0 {$"2187{rest}"[..16]}\n40 7E0 2187{rest}\n50 7E0 22F1{Many("CC", 14)}\n60 7E0 {last}",
            "after 0 300000\nafter 0 037F2213").Holds();
    }

    [Fact]
    public void A3_a_channel_with_can_fd_takes_classic_frames() =>
        (Fd("", "", $"* {Part}") with { Around = "{id: 0x7E0, at: 10 ms, data: 03 22 F1 87}" }).Holds();

    [Fact]
    public void A3_a_classic_channel_takes_no_more_than_8_bytes() =>
        Fd("format: classic", "10 7E0 000922F187F187F187F187CC\n20 7E0 101622F187F187F187F187F1\n30 7E0 0322F187", $"after 0 {Part}").Holds();

    private static string Many(string bytes, int count) => string.Concat(Enumerable.Repeat(bytes, count));

    private static string Letters(int count) => $"{{0x0102: {{text: {new string('A', count)}}}}}";

    private static Exchange Fd(string settings, string tester, string module) => new(settings, tester, module) { Fd = true };
}
