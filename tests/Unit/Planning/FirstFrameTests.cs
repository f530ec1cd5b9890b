using Locum.Diagnostics;
using Xunit;

namespace Locum.Tests.Unit.Planning;

/// <summary>A board's start against the first frame's time; wire times by hand: 8 bytes at 500 kbit/s are at most 132 bits, 264 µs.</summary>
public class FirstFrameTests
{
    private const string OneMode = "frames: {A: {id: 1, length: 8, every: 1 s, offset: 20 ms}}";

    private const string Awake = """
        inputs: {key: {active: high, debounce: 10 ms}}
        modes: {off: {sleep: yes, until: {key: active, then: slow}}, slow: {for: 30 ms, then: on}, on: {}}
        frames: {A: {id: 1, length: 8, every: 1 s, offset: 20 ms, in: [on]}}
        """;

    [Theory]
    // 65 ms + 20 ms + 264 µs.
    [InlineData("board: avr-mcp2515", "85.264 ms", OneMode, "")]
    [InlineData("board: avr-mcp2515", "85.263 ms", OneMode, "LC0907")]
    // Debounce 10 ms, 30 ms in 'slow', offset 20 ms.
    [InlineData("board: avr-mcp2515", "125.264 ms", Awake, "")]
    [InlineData("board: avr-mcp2515", "125.263 ms", Awake, "LC0907")]
    // 1600 ms with the bootloader.
    [InlineData("board: avr-mcp2515, bootloader: yes", "1620.264 ms", OneMode, "")]
    [InlineData("board: avr-mcp2515, bootloader: yes", "1620.263 ms", OneMode, "LC0907")]
    [InlineData("board: stm32f103-bxcan, bootloader: yes", "25.264 ms", OneMode, "")]
    [InlineData("board: pc", "20.264 ms", OneMode, "")]
    public void Start_way_and_wire_must_fit_the_time(string board, string within, string rest, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Plan(board, within, rest)));

    [Theory]
    [InlineData("board: avr-mcp2515, bootloader: yes", "100 ms", OneMode, "bootloader: no")]
    [InlineData("board: avr-mcp2515", "40 ms", OneMode, "stm32f103-bxcan (5 ms)")]
    [InlineData("board: avr-mcp2515", "21 ms", OneMode, "no board starts within 0.736 ms")]
    [InlineData("board: avr-mcp2515", "10 ms", OneMode, "shorten the way to the first frame")]
    public void The_mend_says_what_would_do(string board, string within, string rest, string mend) =>
        Assert.Contains(mend, Assert.Single(Plan(board, within, rest)).Mend);

    // Only a request is answered: nothing can be said about the first frame.
    [Fact]
    public void Frames_that_only_others_cause_have_no_first_time() =>
        Assert.Empty(Plan("board: avr-mcp2515", "1 ms", "receives: {Ask: {id: 2, timeout: 1 s}}\nframes: {A: {id: 1, length: 0, on: [{receive: Ask}]}}"));

    private const string Outputs = """
        inputs: {key: {active: high, debounce: 10 ms}, fast: {active: high}}
        modes: {off: {sleep: yes, until: {key: active, then: on}}, on: {}}
        frames: {A: {id: 1, length: 0, every: 1 s}}
        outputs: {load: {active: high, KEYS}}
        """;

    // 65 ms on the AVR; the mode is entered after 10 ms of debounce.
    [Theory]
    [InlineData("within: 75 ms", "")]
    [InlineData("within: 74999 us", "LC0907")]
    [InlineData("in: off, within: 65 ms", "")]
    [InlineData("after: 5 ms, within: 79999 us", "LC0907")]
    [InlineData("in: [off, on], while: [{key: active}, {fast: active}], within: 65 ms", "")]
    [InlineData("in: [off, on], while: [{key: active, fast: inactive}], within: 74999 us", "LC0907")]
    public void Outputs_have_their_time_as_well(string keys, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Plan("board: avr-mcp2515, outputs: {load: D5}", "1 h", Outputs.Replace("KEYS", keys, StringComparison.Ordinal))));

    private static IReadOnlyList<Diagnostic> Plan(string board, string within, string rest) =>
        Boards.Plan(board, $"locum: 1\nmodule: m\nhazard: none\nfirst frame within: {within}\nbuses: {{body: {{rate: 500 kbit/s}}}}\n{rest}\n").Found;
}
