using Locum.Boards;
using Locum.Planning;
using Xunit;
using Texts = Locum.Tests.Unit.Planning.Boards;

namespace Locum.Tests.Firmware;

/// <summary>What does not fit a board's memory is told: by the plan where it can know, by the linker always.</summary>
public sealed class MemoryTests
{
    // Delayed values take 4 bytes each; everything else of this module less than 200.
    private const int Fits = 390;
    private const int LeavesTheStackTooLittle = 440;

    [Fact]
    public void Variables_that_leave_the_stack_too_little_do_not_link()
    {
        using var fits = new FirmwareFolder(Plan("avr-mcp2515", Fits));
        Assert.Equal("", fits.Make());
        Assert.InRange(FirmwareSize.Of("avr-", Path.Combine(fits.Root, "firmware.elf")).StaticRam, Fits * 4, BoardCatalogue.Find("avr-mcp2515")!.DataBytes);
        using var large = new FirmwareFolder(Plan("avr-mcp2515", LeavesTheStackTooLittle));
        Assert.Contains("is not within region `data'", large.Make(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("avr-mcp2515", 446)]
    [InlineData("stm32f103-bxcan", 4602)]
    public void More_than_a_board_can_hold_is_a_finding(string kind, int most)
    {
        Assert.NotNull(Plan(kind, most));
        Assert.Contains(Texts.Plan($"board: {kind}", Module(most + 1)).Found, d => d.Code.Id is "LC0912");
    }

    [Fact]
    public void Delays_are_no_matter_on_the_pc() => Assert.NotNull(Plan(BoardPlanner.PcBoard, 4_000));

    [Fact]
    public void The_layout_of_the_stm32_reserves_the_stack_that_is_counted_with()
    {
        var kind = BoardCatalogue.Find("stm32f103-bxcan")!;
        var layout = File.ReadAllText(RepoRoot.Path("templates", "boards", kind.Name, "stm32f103c8.ld"));
        Assert.Contains($"layout_stack_size = {kind.StackBytes / 1024}K;", layout, StringComparison.Ordinal);
        Assert.Contains($"LENGTH = {kind.RamBytes / 1024}K\n", layout, StringComparison.Ordinal);
        Assert.Contains($"LENGTH = {kind.FlashBytes / 1024}K\n", layout, StringComparison.Ordinal);
    }

    private static BoardPlan Plan(string kind, int delays)
    {
        var (plan, found) = Texts.Plan($"board: {kind}", Module(delays));
        Assert.DoesNotContain(found, d => d.Severity is Locum.Diagnostics.Severity.Error);
        return plan!;
    }

    // Frames of up to eight late followers, so many periods late in all.
    private static string Module(int delays)
    {
        const int Most = 250;
        var fields = Enumerable.Range(0, (delays + Most - 1) / Most).Select(i => (Number: i, Periods: Math.Min(Most, delays - (i * Most))));
        var frames = fields.Chunk(8).Select((c, f) => $"F{f}: {{id: {0x300 + f}, length: 8, every: 10 ms, fields: {{{string.Join(", ",
            c.Select(d => $"l{d.Number % 8}: {{bit: {d.Number % 8 * 8}, bits: 8, follow: {{from: Drive.speed, delay: {d.Periods * 10} ms}}, lost: 0}}"))}}}}}");
        return Texts.Module("late", "body: {rate: 500 kbit/s}", string.Join(", ", frames))
            + "receives: {Drive: {id: 0x100, timeout: 1 s, fields: {speed: {bit: 0, bits: 8}}}}\n";
    }
}
