using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rule A12: frames of a channel that do not get through. N_As and N_Ar are 1000 ms (ISO 15765-2, from memory).</summary>
public sealed class TransportTimerTests
{
    private const long SecondUs = 1_000_000;

    private static readonly CanId s_request = new(0x7E0, false);
    private static readonly CanId s_response = new(0x7E8, false);

    // The bus is blocked so long that the first frame ends exactly a second after it was asked for, or 1 us later.
    [Theory]
    [InlineData(0, "* 101462F190444550\nafter 0 214F543030303030\nthen 0 2230304C4F434F31")]
    [InlineData(1, "* 101462F190444550\nafter 0 027E00")]
    public void A12_a_first_frame_that_takes_longer_than_a_second_ends_the_answer(int late, string module) =>
        new Exchange("", "10 7E0 0322F190\n1100 7E0 300000\n1200 7E0 " + (late > 0 ? "023E00" : "300000"), module)
        {
            More = BlockedUntil(10_000 + Us(s_request, "0322F190") + SecondUs - Us(s_response, "101462F190444550") + late),
            For = 2_000,
        }.Holds();

    // The second frame of the answer is asked for a separation of 10 ms behind the first one's leaving.
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void A12_every_frame_of_an_answer_has_its_second(int late)
    {
        var asked = 20_000 + Us(s_request, "30000A") + Us(s_response, "214F543030303030") + 10_000;
        new Exchange("padding: none", "10 7E0 0322F190\n20 7E0 30000A\n1200 7E0 023E00", "* 101462F190444550\n* 214F543030303030\n* 2230304C4F434F31" + "\n* 027E00")
        {
            More = $"blocked: {{b: [{{from: 25 ms, until: {asked + SecondUs - Us(s_response, "2230304C4F434F31") + late} us}}]}}",
            For = 2_000,
        }.Holds();
    }

    [Theory]
    [InlineData(0, "* 300000\nafter 0 0762F18701020304")]
    [InlineData(1, "* 300000\nafter 0 027E00")]
    public void A12_a_flow_control_that_takes_longer_than_a_second_ends_the_reception(int late, string module) =>
        new Exchange("", "10 7E0 100922F187000000\n1100 7E0 21000000\n" + (late > 0 ? "1200 7E0 023E00" : ""), module)
        {
            More = BlockedUntil(10_000 + Us(s_request, "100922F187000000") + SecondUs - Us(s_response, "300000") + late),
            For = 2_000,
        }.Holds();

    // Three frames fill the mailboxes, and none of them gets through for a second.
    [Fact]
    public void A12_what_no_controller_takes_for_a_second_is_dropped() =>
        new Exchange("", "10 7E0 023E00\n1100 7E0 0322F187", "after 0 0762F18701020304")
        {
            Frames = "A: {id: 0x7F1, length: 0, every: 1000 s}, B: {id: 0x7F2, length: 0, every: 1000 s}, C: {id: 0x7F3, length: 0, every: 1000 s}",
            Around = "{id: 0x7E4, every: 50 us, until: 1050 ms};{id: 0x7E5, every: 50 us, offset: 25 us, until: 1050 ms}",
            Dropped = 1,
            For = 2_000,
        }.Holds();

    // What is late is sent all the same, but a new request is not kept waiting by it; only the identifier is.
    [Fact]
    public void A12_a_late_frame_means_nothing_to_the_next_answer() =>
        new Exchange("", "10 7E0 0322F190\n1200 7E0 0322F187\n1210 7E0 300000", "* 101462F190444550\nafter 0 0762F18701020304")
        {
            More = BlockedUntil(1_150_000),
            For = 2_000,
        }.Holds();

    // The session would end 5 s behind the overflow, which makes the channel idle; the end of N_Ar a second later is no new begin.
    [Theory]
    [InlineData(5_900, "02C501")]
    [InlineData(6_100, "037F857F")]
    public void A12_an_overflow_that_nobody_hears_leaves_the_session_alone(int ms, string answer) =>
        new Exchange("sessions: extended;memory: empty", $"10 7E0 021003\n1000 7E0 1FFF000000000000\n{ms} 7E0 028501", $"after 0 065003003201F4\n* 320000\nafter 0 {answer}")
        {
            More = "blocked: {b: [{from: 1000010 us, until: 2500 ms}]}",
            For = 7_000,
        }.Holds();

    private static string BlockedUntil(long us) => $"blocked: {{b: [{{from: 10010 us, until: {us} us}}]}}";

    private static long Us(CanId id, string data) => WireLength.Of(id, FrameFormat.Classic, Convert.FromHexString(data)).TimeUs(1_000_000, null);
}
