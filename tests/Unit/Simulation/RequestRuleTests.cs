using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// Rule J5: requests and what they are answered. Refusals have the form of J1939-21's Acknowledgement (from memory; the
/// address that it is for and code 03 since its revision of 2006).
/// </summary>
public sealed class RequestRuleTests
{
    private const string Own = "Own: {id: 0x18F0A417, length: 1, every: 40 ms, offset: 5 ms, fields: {n: {bit: 0, bits: 8, counter: {} } } }, Rare: {id: 0x18F0A517, length: 1, on: {mode: other}, in: other}";

    private const string WithFrames = "0xF0A4: {frame: Own}, 0xF0A5: {frame: Rare}";

    [Theory]
    [InlineData("18EAFFF9 00EE00", Network.Claim)]
    [InlineData("18EA17F9 00EE00", Network.Claim)]
    [InlineData("18EA17FE 00EE00", Network.Claim)]
    [InlineData("1CEA17F9 DAFE00", "18FEDA17 01312A")]
    [InlineData("18EAFFF9 DAFE00", "18FEDA17 01312A")]
    [InlineData("18EA17F9 DAFE00FFFFFFFFFF", "18FEDA17 01312A")]
    [InlineData("18EA17F9 DBFE00", "18FEDB17 1122334455667788")]
    [InlineData("18EA17F9 00EF00", "18EFF917 0102")]
    [InlineData("18EAFFF9 00EF00", "18EFFF17 0102")]
    [InlineData("18EA17F9 DCFE00", "18E8FF17 01FFFFFFF9DCFE00")]
    [InlineData("18EA17F8 DAFE01", "18E8FF17 01FFFFFFF8DAFE01")]
    [InlineData("18EA17F9 DAFE04", "18E8FF17 01FFFFFFF9DAFE04")]
    [InlineData("18EA17F9 00EA00", "18E8FF17 01FFFFFFF900EA00")]
    public void J5_requests_are_answered(string request, string answer) =>
        new Network($"10 {request}", $"at 0 {Network.Claim}\nafter 0 {answer}").Holds();

    [Theory]
    [InlineData("18EAFFF9 DCFE00")]
    [InlineData("18EA18F9 DAFE00")]
    [InlineData("18EA17F9 DAFE")]
    [InlineData("18EA17FE DAFE00")]
    [InlineData("18EA17FF DCFE00")]
    [InlineData("19EA17F9 DAFE00")]
    [InlineData("1AEA17F9 DAFE00")]
    public void J5_others_are_not(string request) => new Network($"10 {request}", $"at 0 {Network.Claim}").Holds();

    // While a node waits for objections to its claim, nothing but the claim is answered.
    [Fact]
    public void J5_nothing_else_is_answered_before_the_address_is_the_nodes_own() =>
        new Network("10 18EA80F9 DAFE00\n20 18EA80F9 DCFE00\n30 18EA80F9 00EE00\n260 18EA80F9 DAFE00",
            $"at 0 18EEFF80 {Network.Name}\nafter 0 18EEFF80 {Network.Name}\nafter 0 18FEDA80 01312A")
        { Address = "0x80" }.Holds();

    // The phase of Own stays: 5, 45, 85 ms.
    [Fact]
    public void J5_a_frame_of_the_module_is_sent_once_more() =>
        new Network("10 18EA17F9 A4F000\n20 18EAFFF9 A4F000", $"at 0 {Network.Claim}\nat 5000 18F0A417 00\nafter 0 18F0A417 01\nafter 0 18F0A417 02\nat 45000 18F0A417 03")
        {
            Frames = Own,
            Answers = WithFrames,
            Description = "modes: {first: {for: 1000 s, then: other}, other: {} }\n",
            Settings = "in: [first, other]",
            For = 60,
        }.Holds();

    [Fact]
    public void J5_a_frame_that_is_not_sending_is_refused() =>
        new Network("10 18EA17F9 A5F000\n20 18EAFFF9 A5F000\n60 18EA17F9 A5F000", $"at 0 {Network.Claim}\nat 5000 18F0A417 00\nafter 0 18E8FF17 01FFFFFFF9A5F000\nat 45000 18F0A417 01\nat 50000 18F0A517 00\nafter 0 18F0A517 00")
        {
            Frames = Own,
            Answers = WithFrames,
            Description = "modes: {first: {for: 50 ms, then: other}, other: {} }\n",
            For = 80,
        }.Holds();

    // Stalled: both are taken at 20 ms.
    [Fact]
    public void J5_a_newer_refusal_takes_the_place_of_an_older_one() =>
        new Network("6 18EA17F9 DCFE00\n7 18EA17F8 DDFE00", $"at 0 {Network.Claim}\nat 20000 18E8FF17 01FFFFFFF8DDFE00") { More = "stalls: [{from: 5 ms, until: 20 ms}]" }.Holds();
}
