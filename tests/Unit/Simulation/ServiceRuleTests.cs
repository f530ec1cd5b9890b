using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rules A1, A8, A9 and A11: services, sessions and functional requests. Bytes are those of ISO 14229-1, from memory.</summary>
public sealed class ServiceRuleTests
{
    private const string All = "sessions: [default, extended];reset: accept;security: denied;memory: empty";

    // A request and its answer, both behind their length.
    [Theory]
    [InlineData("021001", "065001003201F4")]
    [InlineData("021003", "065003003201F4")]
    [InlineData("021002", "037F1012")]
    [InlineData("0110", "037F1013")]
    [InlineData("03100100", "037F1013")]
    [InlineData("021101", "025101")]
    [InlineData("021103", "025103")]
    [InlineData("021104", "037F1112")]
    [InlineData("0414FFFFFF", "0154")]
    [InlineData("0414FFFF33", "037F1431")]
    [InlineData("0314FFFF", "037F1413")]
    [InlineData("031901FF", "065901FF010000")]
    [InlineData("031902FF", "035902FF")]
    [InlineData("02190A", "03590AFF")]
    [InlineData("021902", "037F1913")]
    [InlineData("031906FF", "037F1912")]
    [InlineData("0322F187", "0762F18701020304")]
    [InlineData("0522F187F188", "0762F18701020304")]
    [InlineData("0322F188", "037F2231")]
    [InlineData("0222F1", "037F2213")]
    [InlineData("0422F187F1", "037F2213")]
    [InlineData("022701", "037F2733")]
    [InlineData("022700", "037F2712")]
    [InlineData("023E00", "027E00")]
    [InlineData("023E01", "037F3E12")]
    [InlineData("033E0000", "037F3E13")]
    [InlineData("028501", "037F857F")]
    [InlineData("028503", "037F8512")]
    [InlineData("03280001", "037F2811")]
    [InlineData("042EF19000", "037F2E11")]
    [InlineData("01FF", "037FFF11")]
    public void A11_every_request_has_its_answer(string request, string answer) =>
        new Exchange(All, $"10 7E0 {request}", $"after 0 {answer}").Holds();

    [Theory]
    [InlineData("021002", "037F1012")]
    [InlineData("021003", "037F1012")]
    [InlineData("021101", "037F1122")]
    [InlineData("022701", "037F2711")]
    [InlineData("0414FFFFFF", "037F1411")]
    [InlineData("02190A", "037F1911")]
    [InlineData("028501", "037F8511")]
    public void A11_what_is_not_described_is_refused(string request, string answer) =>
        new Exchange("", $"10 7E0 {request}", $"after 0 {answer}").Holds();

    [Fact]
    public void A11_a_positive_answer_can_be_suppressed_a_negative_one_cannot() =>
        new Exchange(All, "10 7E0 023E80\n20 7E0 021083\n30 7E0 028501\n40 7E0 028581\n50 7E0 021082\n60 7E0 022781", "after 0 02C501\nafter 0 037F1012\nafter 0 037F2733").Holds();

    // 122 + 2 bytes, three times, are more than all identifiers once: 1 + 19 + 6 + 124.
    [Fact]
    public void A11_an_answer_without_room_is_refused() =>
        new Exchange(All, "10 7E0 052201020102", "after 0 037F2214").Holds();

    [Theory]
    [InlineData("023E80", "")]
    [InlineData("023E00", "027E00")]
    [InlineData("0322F187", "0762F18701020304")]
    [InlineData("0322F188", "")]
    [InlineData("022801", "")]
    [InlineData("021002", "")]
    [InlineData("028501", "")]
    [InlineData("0110", "037F1013")]
    [InlineData("022701", "037F2733")]
    [InlineData("100822F187F187F1", "")]
    public void A8_what_everyone_hears_has_fewer_negative_answers(string request, string answer) =>
        new Exchange(All, $"10 7DF {request}", answer is "" ? "" : $"after 0 {answer}").Holds();

    [Fact]
    public void A8_requests_for_all_are_ignored_while_the_channel_is_busy() =>
        new Exchange(All, "10 7E0 0322F190\n20 7DF 023E00\n30 7E0 320000\n40 7DF 023E00\n50 7E0 100922F187000000\n60 7DF 023E00\n70 7E0 21000000",
            "after 0 101462F190444550\nafter 0 027E00\nafter 0 300000\nafter 0 0762F18701020304").Holds();

    // 85 tells the sessions apart: C5 in the extended one. 4.9 s after an answer it is still there, 5.1 s after it is not.
    [Fact]
    public void A9_a_session_ends_5_s_after_the_last_request() =>
        new Exchange(All, "10 7E0 021003\n4900 7E0 023E80\n9800 7DF 023E80\n14700 7E0 028501\n19850 7E0 028501", "after 0 065003003201F4\nafter 0 02C501\nafter 0 037F857F") { For = 20_000 }.Holds();

    [Fact]
    public void A11_a_reset_ends_the_session() =>
        new Exchange(All, "10 7E0 021003\n20 7E0 021101\n30 7E0 028501", "after 0 065003003201F4\nafter 0 025101\nafter 0 037F857F").Holds();

    // The mode ends at 100 ms in the middle of an answer, and comes again at 200 ms.
    [Fact]
    public void A1_a_channel_that_stops_forgets_everything() =>
        new Exchange(All, "10 7E0 021003\n20 7E0 0322F190\n110 7E0 300000\n120 7E0 023E00\n210 7E0 300000\n220 7E0 028501",
            "after 0 065003003201F4\nafter 0 101462F190444550\nafter 0 037F857F")
        {
            Modes = "modes: {on: {for: 100 ms, then: off}, off: {sleep: yes, for: 100 ms, then: on}}",
            For = 290,
        }.Holds();

    // The controller is off while the answer is due; afterwards nothing of it is left, and the session is the default one.
    [Fact]
    public void A1_a_channel_forgets_everything_while_a_guard_shuts_its_bus() =>
        new Exchange(All + ";answer after: 50 ms", "10 7E0 021003\n90 7E0 0322F187\n300 7E0 028501", "after 50000 065003003201F4\nafter 50000 037F857F")
        {
            Guards = "{bus off: {recoveries: 5, within: 60 s, wait: 100 ms}}",
            More = "bus off: {b: 100 ms}",
        }.Holds();

    [Theory]
    [InlineData(2)]
    [InlineData(50)]
    public void A6_the_answer_comes_after_its_delay(int ms) =>
        new Exchange($"answer after: {ms} ms", "10 7E0 023E00", $"after {ms * 1_000} 027E00").Holds();
}
