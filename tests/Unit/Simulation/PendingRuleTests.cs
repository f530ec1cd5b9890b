using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// Rule A13: answers that take longer than a tester waits. P2 is 50 ms, P2* is 5 s; 7F, service, 78 says "response
/// pending"; what it announced is sent whatever bit 7 or the functional identifier say (ISO 14229-1, from memory).
/// </summary>
public sealed class PendingRuleTests
{
    private const string Part = "0762F18701020304";

    private static readonly CanId s_response = new(0x7E8, false);

    [Theory]
    [InlineData(49_999, "")]
    [InlineData(50_000, "")]
    [InlineData(50_001, "after 40000 037F2278\n")]
    [InlineData(700_000, "after 40000 037F2278\n")]
    public void A13_an_answer_that_comes_after_P2_is_announced(int us, string pending) =>
        new Exchange($"answer after: {us} us", "10 7E0 0322F187", $"{pending}after {us} {Part}").Holds();

    [Fact]
    public void A13_the_announcement_is_repeated_as_long_as_needed() =>
        new Exchange("answer after: 12 s", "10 7E0 0322F187", $"after 40000 037F2278\nthen 4000000 037F2278\nthen 4000000 037F2278\nafter 12000000 {Part}") { For = 14_000 }.Holds();

    // The answer is due exactly P2* behind the leaving of the announcement, or 1 us later.
    [Theory]
    [InlineData(0, "")]
    [InlineData(1, "then 4000000 037F2278\n")]
    public void A13_no_announcement_is_needed_when_the_answer_comes_within_P2_star(int more, string again)
    {
        var us = 40_000 + WireLength.Of(s_response, FrameFormat.Classic, [3, 0x7F, 0x22, 0x78]).TimeUs(1_000_000, null) + 5_000_000 + more;
        new Exchange($"answer after: {us} us", "10 7E0 0322F187", $"after 40000 037F2278\n{again}after {us} {Part}") { For = 6_000 }.Holds();
    }

    [Fact]
    public void A13_announcements_are_filled_up_as_other_frames() =>
        new Exchange("answer after: 60 ms; padding: 0xAA", "10 7E0 0322F187", $"after 40000 037F2278AAAAAAAA\nafter 60000 {Part}").Holds();

    [Fact]
    public void A13_an_answer_of_many_frames_follows_as_usual() =>
        new Exchange("answer after: 60 ms", "10 7E0 0322F190\n90 7E0 300000", "after 40000 037F2278\nafter 60000 101462F190444550\nafter 0 214F543030303030\nthen 0 2230304C4F434F31").Holds();

    // Requests in between are ignored, flow controls mean nothing yet.
    [Fact]
    public void A13_the_channel_is_busy_until_the_answer_has_left() =>
        new Exchange("answer after: 200 ms", "10 7E0 0322F187\n30 7E0 023E00\n100 7DF 023E00\n110 7E0 300000\n300 7E0 023E00", $"* 037F2278\n* {Part}\nafter 50000 027E00").Holds();

    [Theory]
    [InlineData("7E0 021083", "1078", "065003003201F4")]
    [InlineData("7E0 028581", "8578", "037F857F")]
    [InlineData("7E0 021101", "1178", "025101")]
    [InlineData("7DF 0322F188", "2278", "037F2231")]
    [InlineData("7DF 022800", "2878", "037F2811")]
    [InlineData("7DF 021005", "1078", "037F1012")]
    [InlineData("7DF 028501", "8578", "037F857F")]
    public void A13_what_was_announced_is_sent(string request, string pending, string answer) =>
        new Exchange("answer after: 80 ms; sessions: extended; memory: empty; reset: accept", $"10 {request}", $"after 40000 037F{pending}\nafter 80000 {answer}").Holds();

    // A tester that keeps a session alive would otherwise keep the channel busy.
    [Theory]
    [InlineData("7E0 023E80", "")]
    [InlineData("7DF 023E80", "")]
    [InlineData("7DF 023E01", "")]
    [InlineData("7E0 023E00", "after 50000 027E00")]
    [InlineData("7E0 023E01", "after 50000 037F3E12")]
    public void A13_tester_present_is_never_announced(string request, string answer) =>
        new Exchange("answer after: 3 s", $"10 {request}", answer).Holds();

    [Theory]
    [InlineData("0322F187", "after 0 0762F18701020304")]
    [InlineData("0322F18A", "after 40000 037F2278\nafter 200000 0462F18A07")]
    [InlineData("0322F18B", "after 30000 0462F18B08")]
    [InlineData("0522F18AF18B", "after 40000 037F2278\nafter 200000 0762F18A07F18B08")]
    [InlineData("0522F18BF18A", "after 40000 037F2278\nafter 200000 0762F18B08F18A07")]
    [InlineData("0522F199F18B", "after 30000 0462F18B08")]
    [InlineData("0722F18AF187F187", "after 0 037F2214")]
    [InlineData("0322F199", "after 0 037F2231")]
    [InlineData("0222F1", "after 0 037F2213")]
    public void A13_an_identifier_can_take_a_time_of_its_own(string request, string module) =>
        new Exchange("", $"10 7E0 {request}", module) { Identifiers = "{0xF187: {bytes: 01 02 03 04}, 0xF18A: {bytes: 07, after: 200 ms}, 0xF18B: {bytes: 08, after: 30 ms}}" }.Holds();

    [Fact]
    public void A13_the_longest_time_counts() =>
        new Exchange("answer after: 45 ms", "10 7E0 0322F18B\n100 7E0 0322F18A", "after 45000 0462F18B08\nafter 46000 0462F18A07") { Identifiers = "{0xF18A: {bytes: 07, after: 46 ms}, 0xF18B: {bytes: 08, after: 30 ms}}" }.Holds();

    // Negative answers are suppressed as usual when only an identifier takes long.
    [Fact]
    public void A13_an_identifier_announces_nothing_for_others() =>
        new Exchange("", "10 7DF 0322F199\n20 7E0 023E80\n30 7DF 0322F18A", "after 40000 037F2278\nafter 200000 0462F18A07") { Identifiers = "{0xF18A: {bytes: 07, after: 200 ms}}" }.Holds();

    // The bus is blocked over the time at which the answer is due.
    [Fact]
    public void A13_the_answer_waits_for_the_announcement_to_leave() =>
        new Exchange("answer after: 60 ms", "10 7E0 0322F187", $"after 40000 037F2278\nthen 0 {Part}") { More = "blocked: {b: [{from: 30 ms, until: 300 ms}]}" }.Holds();

    [Fact]
    public void A12_an_announcement_that_does_not_leave_ends_the_answer() =>
        new Exchange("answer after: 3 s", "10 7E0 0322F187\n1200 7E0 023E00", "after 40000 037F2278\nafter 50000 027E00") { More = "blocked: {b: [{from: 30 ms, until: 1150 ms}]}", For = 5_000 }.Holds();

    // The session ends 5 s behind the answer, not behind the request.
    [Theory]
    [InlineData(8_900, "02C501")]
    [InlineData(9_100, "037F857F")]
    public void A9_S3_does_not_run_while_an_answer_is_announced(int ms, string answer) =>
        new Exchange("sessions: extended; memory: empty", $"10 7E0 021003\n1000 7E0 0322F18A\n{ms} 7E0 028501", $"after 0 065003003201F4\n* 037F2278\n* 0462F18A07\nafter 0 {answer}")
        {
            Identifiers = "{0xF18A: {bytes: 07, after: 3 s}}",
            For = 10_000,
        }.Holds();
}
